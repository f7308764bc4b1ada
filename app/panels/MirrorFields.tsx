import { useLayoutEffect, useRef } from 'react';
import { Button, Group, ToggleButton } from 'react-aria-components';
import type { Mirroring } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { mirrorFit, mirrorPlane } from '../state/mirroring.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { Choice } from '../ui/Choice.tsx';
import { Num } from '../ui/Num.tsx';
import { words } from '../words.ts';
import './MirrorFields.css';

const PLANES = (['found', 'x', 'y', 'z'] as const).map((id) => ({ id, text: words.mirrorPlanes[id] }));

interface MirrorFieldsProps {
  /** The seam is an image that was made just now: what made it keeps the keys. */
  isFresh: boolean;
  onMirrored: () => void;
}

/** Mirrors the chosen seam: across which plane, how far the figure is symmetric there, and the deed. */
export function MirrorFields({ isFresh, onMirrored }: MirrorFieldsProps) {
  const actions = useActions();
  const mirroring = useBench((s) => s.sitting.mirroring);
  return (
    <>
      <ToggleButton
        className="react-aria-ToggleButton wide"
        autoFocus={isFresh}
        aria-expanded={mirroring !== null}
        isSelected={mirroring !== null}
        onChange={(is) => (is ? actions.chooseMirror({ across: 'found' }) : actions.leaveMirror())}
      >
        {words.mirrorAcross}
      </ToggleButton>
      {mirroring && <PlaneForm mirroring={mirroring} onMirrored={onMirrored} />}
    </>
  );
}

function PlaneForm({ mirroring, onMirrored }: { mirroring: Mirroring; onMirrored: () => void }) {
  const actions = useActions();
  const form = useRef<HTMLDivElement>(null);
  const fit = useBench(mirrorFit, isSame);
  // Where the panel is low what can be done, and what is told of the figure, would be below its end.
  useLayoutEffect(() => void form.current?.scrollIntoView({ block: 'nearest' }), [fit, mirroring.across]);
  const hasPlane = useBench((s) => mirrorPlane(s) !== null);
  const mirror = async () => {
    if (await actions.mirrorSeam()) onMirrored();
  };
  return (
    <Group ref={form} className="mirror-form wide field-grid" aria-label={words.mirrorAcross}>
      <div className="wide">
        <Choice
          label={words.mirrorPlane}
          options={PLANES}
          chosen={mirroring.across}
          onChoose={(across) => actions.chooseMirror({ across })}
        />
      </div>
      {mirroring.across !== 'found' && (
        <Num
          label={words.mirrorOffset}
          unit={words.mm}
          value={mirroring.offsetMm}
          step={0.1}
          onCommit={(offsetMm) => offsetMm !== undefined && actions.chooseMirror({ ...mirroring, offsetMm })}
        />
      )}
      <p className="wide mirror-fit" role="status" data-testid="mirror-fit">
        {fit === null ? words.mirrorMeasuring : words.mirrorFit(fit, mirroring.across === 'found')}
      </p>
      <Button className="wide" isDisabled={!hasPlane} onPress={() => void mirror()}>
        {words.mirror}
      </Button>
    </Group>
  );
}
