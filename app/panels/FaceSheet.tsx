import { useMemo } from 'react';
import { fromFrame, type Seam, type SeamResult, type Vec2 } from '../../src/index.ts';
import { FaceDrawing } from '../drawings/FaceDrawing.tsx';
import { words } from '../messages.ts';
import { type BenchState, jobOf } from '../state/bench-state.ts';
import { findSeam, roundTo, setPeg } from '../state/job-edits.ts';
import { settledPegs } from '../state/settled-pegs.ts';
import { useActions, useBench } from '../state/workbench.tsx';

const resultOf = (s: BenchState): SeamResult | null =>
  s.derived.view?.seams.find((one) => one.id === s.sitting.seamId) ?? null;

/** The face drawing wired to the chosen seam. */
export function FaceSheet() {
  const seam = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const result = useBench(resultOf);
  if (seam === null || result === null) return <p className="drawing-empty">{words.noFace}</p>;
  return <SeamFace seam={seam} result={result} />;
}

function SeamFace({ seam, result }: { seam: Seam; result: SeamResult }) {
  const actions = useActions();
  const { pegIndex, adding } = useBench((s) => s.sitting);
  const contours = useBench((s) => s.derived.view?.contours[seam.id]);
  const live = useBench((s) => s.derived.live);
  const { process } = useBench(jobOf);
  const pegs = useMemo(() => settledPegs(seam, result, process), [seam, result, process]);
  const inFile = (uv: Vec2) => {
    const [x, y, z] = fromFrame(result.frame, uv);
    return [roundTo(x, 1e4), roundTo(y, 1e4), roundTo(z, 1e4)] as const;
  };
  return (
    <FaceDrawing
      seam={result}
      contours={contours ?? []}
      pegs={pegs}
      selectedPeg={pegIndex}
      onSelectPeg={(index) => index !== null && actions.select(seam.id, index, 'peg')}
      onPegChange={(index, { uv, ...sizes }, phase) => {
        if (phase === 'cancel') return actions.gesture.cancel();
        actions.gesture.begin();
        actions.gesture.update(
          (job) => setPeg(job, seam.id, index, { ...sizes, ...(uv && { at: inFile(uv) }) }),
          false,
        );
        if (phase === 'commit') actions.gesture.complete();
      }}
      onAddPeg={(uv) => actions.addPeg(inFile(uv))}
      onRemovePeg={actions.removePeg}
      adding={adding}
      minWallMm={process.minWallMm}
      liveOutline={live?.seamId === seam.id ? live.face : null}
    />
  );
}
