import { Button } from 'react-aria-components';
import { turnAbout, turnBetween, type Vec3 } from '../../src/index.ts';
import { turnFigure } from '../state/sculpt-edits.ts';
import { useActions } from '../state/workbench.tsx';
import { Choice } from '../ui/Choice.tsx';
import { words } from '../words.ts';
import './SculptStand.css';

type Side = keyof typeof words.sides;

/** The direction each side faces. */
const SIDES: Record<Side, Vec3> = {
  top: [0, 0, 1],
  under: [0, 0, -1],
  right: [1, 0, 0],
  left: [-1, 0, 0],
  rear: [0, 1, 0],
  fore: [0, -1, 0],
};
const SIDE_OPTIONS = (Object.keys(SIDES) as Side[]).map((id) => ({ id, text: words.sides[id] }));

const AXES: readonly [name: string, axis: Vec3][] = [
  ['X', [1, 0, 0]],
  ['Y', [0, 1, 0]],
  ['Z', [0, 0, 1]],
];
const UP: Vec3 = [0, 0, 1];

/** Which way up the figure stands. */
export function SculptStand() {
  const actions = useActions();
  return (
    <section aria-labelledby="stand-title">
      <h3 id="stand-title">{words.stand}</h3>
      <div className="field-grid">
        <div className="wide">
          <Choice<Side>
            label={words.thisWayUp}
            options={SIDE_OPTIONS}
            chosen={null}
            placeholder={words.chooseSide}
            onChoose={(side) => actions.apply((j) => turnFigure(j, turnBetween(SIDES[side], UP)))}
          />
        </div>
        <fieldset className="wide turns">
          <legend className="label">{words.quarterTurns}</legend>
          {AXES.map(([name, axis]) => (
            <Button
              key={name}
              aria-label={words.quarterTurn(name)}
              onPress={() => actions.apply((j) => turnFigure(j, turnAbout(axis, 90)))}
            >
              {name}
            </Button>
          ))}
        </fieldset>
        <Button className="wide" onPress={() => void actions.standOnBed()}>
          {words.standOnBed}
        </Button>
      </div>
    </section>
  );
}
