import { Button, Slider, SliderThumb, SliderTrack, ToggleButton } from 'react-aria-components';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import './BenchTools.css';

/** What a person does to the view rather than to the job: fit, clip, show the build volume, pull apart. */
export function BenchTools() {
  const actions = useActions();
  const explode = useBench((s) => s.sitting.explode);
  const clipped = useBench((s) => s.sitting.clipped);
  const canClip = useBench((s) => s.derived.view?.section != null);
  const isPartial = useBench(({ sitting }) => sitting.hidden.length > 0 || sitting.alone !== null);
  const canPull = useBench((s) => (s.derived.view?.parts.length ?? 0) > 1);
  const hasParts = useBench((s) => (s.derived.view?.parts.length ?? 0) > 0);
  const bedShown = useBench((s) => s.sitting.bedShown);
  return (
    <div className="bench-tools">
      <Button onPress={actions.fit} aria-label={words.fitHint}>
        {words.fit}
      </Button>
      <ToggleButton
        isSelected={clipped}
        isDisabled={!canClip}
        onChange={(is) => actions.sit({ clipped: is })}
        aria-label={words.section}
      >
        {words.section}
      </ToggleButton>
      <ToggleButton isSelected={bedShown} isDisabled={!hasParts} onChange={(is) => actions.showBed(is)}>
        {words.buildVolume}
      </ToggleButton>
      {isPartial && <Button onPress={actions.showAllParts}>{words.showAll}</Button>}
      <Slider
        className="pull"
        aria-label={words.pullApart}
        value={explode}
        minValue={0}
        maxValue={1}
        step={0.01}
        isDisabled={!canPull}
        onChange={(to) => actions.sit({ explode: to })}
      >
        <span aria-hidden="true">{words.pullApart}</span>
        <SliderTrack className="pull-track">
          <SliderThumb className="pull-thumb" />
        </SliderTrack>
      </Slider>
    </div>
  );
}
