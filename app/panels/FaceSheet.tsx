import { useMemo } from 'react';
import { fromFrame, type Seam, type SeamResult, type Vec2, type WallContour } from '../../src/index.ts';
import { FaceDrawing } from '../drawings/FaceDrawing.tsx';
import { words } from '../messages.ts';
import { jobOf } from '../state/bench-state.ts';
import { findSeam, roundTo, setPeg } from '../state/job-edits.ts';
import { settledPegs } from '../state/settled-pegs.ts';
import { useActions, useBench } from '../state/workbench.tsx';

/** The face drawing wired to the chosen seam. */
export function FaceSheet() {
  const seam = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const view = useBench((s) => s.derived.view);
  const result = view?.seams.find((one) => one.id === seam?.id);
  const isUnsound = useBench((s) => s.derived.summary?.solid === false);
  if (isUnsound) return <p className="drawing-empty">{words.notSound}</p>;
  if (seam === null || !view || !result) return <p className="drawing-empty">{words.noFace}</p>;
  return <SeamFace seam={seam} result={result} contours={view.contours[seam.id] ?? []} />;
}

interface SeamFaceProps {
  seam: Seam;
  result: SeamResult;
  contours: WallContour[];
}

function SeamFace({ seam, result, contours }: SeamFaceProps) {
  const actions = useActions();
  const { pegIndex, adding } = useBench((s) => s.sitting);
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
      contours={live?.seamId === seam.id ? live.face.contours : contours}
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
