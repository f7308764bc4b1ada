import { Button } from 'react-aria-components';
import type { DefectKind, Mend } from '../../src/index.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import { Price } from './Price.tsx';
import { LengthForm, SkinForm } from './RemedyForms.tsx';

type Remedy = keyof typeof words.remedies;

/** The remedy that is being considered, and for which flaw. */
export interface Asked {
  at: DefectKind;
  remedy: Remedy;
}

/** What can be done about each flaw; a hollow is none, and what is safe was done on opening. */
const REMEDIES: Record<DefectKind, readonly Remedy[]> = {
  'open-edges': ['fill-flat', 'fill-smooth', 'weld', 're-skin'],
  'non-manifold-edges': ['re-skin'],
  'non-manifold-vertices': ['re-skin'],
  'winding-errors': ['re-skin'],
  'inside-out-shells': ['re-skin'],
  'doubled-surfaces': ['re-skin'],
  specks: ['drop-specks'],
  'degenerate-triangles': ['re-skin'],
  'self-intersections': ['re-skin'],
  'nested-shells': [],
  'overlapping-shells': ['unite', 're-skin'],
};

/** Remedies that need nothing but a yes. */
const PLAIN: Partial<Record<Remedy, Mend>> = {
  'fill-flat': { do: 'fill-holes', how: 'flat' },
  'fill-smooth': { do: 'fill-holes', how: 'smooth' },
  unite: { do: 'unite' },
};

interface RemediesProps {
  at: DefectKind;
  asked: Asked | null;
  onAsk: (asked: Asked | null) => void;
}

/** Remedies beside a flaw. Choosing one tries it, or asks for its size first, and shows what it would do. */
export function Remedies({ at, asked, onAsk }: RemediesProps) {
  const actions = useActions();
  const tried = useBench((s) => s.derived.tried);
  const isBusy = useBench((s) => s.derived.busy !== null);
  const chosen = asked?.at === at ? asked.remedy : null;
  const choose = (remedy: Remedy) => {
    actions.leaveTrial();
    onAsk(chosen === remedy ? null : { at, remedy });
    const plain = PLAIN[remedy];
    if (plain && chosen !== remedy) void actions.tryMend(plain);
  };
  if (REMEDIES[at].length === 0) return <p className="soft">{words.hollowKept}</p>;
  return (
    <>
      <div className="row">
        {REMEDIES[at].map((remedy) => (
          <Button
            key={remedy}
            isDisabled={isBusy}
            aria-expanded={chosen === remedy}
            onPress={() => choose(remedy)}
          >
            {words.remedies[remedy]}
          </Button>
        ))}
      </div>
      {chosen === 'weld' && <LengthForm of="weld" />}
      {chosen === 'drop-specks' && <LengthForm of="drop-specks" />}
      {chosen === 're-skin' && <SkinForm />}
      {chosen !== null && tried && <Price tried={tried} onLeave={() => onAsk(null)} />}
    </>
  );
}
