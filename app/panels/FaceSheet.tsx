import { useMemo } from 'react';
import {
  type AskedJoint,
  type FaceResult,
  fromFrame,
  notice,
  type Process,
  rounded,
  type SeamResult,
  type Side,
  type Vec2,
  type WallContour,
} from '../../src/index.ts';
import { FaceDrawing } from '../drawings/FaceDrawing.tsx';
import { inOwnAxes } from '../drawings/outline-corners.ts';
import { boundsOf } from '../drawings/view.ts';
import {
  type BenchState,
  facetOf,
  isBentAllAlong,
  isHeld,
  isOffFigure,
  jobOf,
  liveFaceOf,
  refusalOf,
  seamResultOf,
} from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { setJoint } from '../state/job-edits.ts';
import { choosableOutlines, isSameList, joiningOutline, type OutlineGroup } from '../state/outlines.ts';
import { waitingIn } from '../state/parts.ts';
import { settledJoints } from '../state/settled-joints.ts';
import { useActions, useBench, useBenchStore, useSeam } from '../state/workbench.tsx';
import { messageText } from '../ui/message-text.ts';
import { namesIn } from '../ui/names.ts';
import { lexicon, words } from '../words.ts';

const NO_CHOICES: OutlineGroup[] = [];
const NO_CONTOURS: WallContour[] = [];

/** The face drawing wired to the chosen seam. */
export function FaceSheet() {
  const seamId = useBench((s) => s.sitting.seamId);
  const joints = useSeam(seamId, (seam) => seam.joints, isSame);
  const pegOn = useSeam(seamId, (seam) => seam.pegOn);
  const process = useBench((s) => jobOf(s).process);
  const store = useBenchStore();
  const result = useBench(
    (s) => seamResultOf(s, seamId),
    (a, b) => a === b || isDrawnAlike(store.getState(), a, b),
  );
  const facet = useBench((s) => facetOf(s, seamId));
  const contours = useBench((s) => (seamId && s.derived.view?.contours[seamId]?.[facet]) || NO_CONTOURS);
  const whyEmpty = useBench(whyNoFace);
  const isBent = useBench((s) => isBentAllAlong(s, seamId));
  const isOff = useBench((s) => isOffFigure(s, seamId));
  const isUnsound = useBench((s) => s.derived.summary?.solid === false);
  if (isUnsound) return <p className="drawing-empty">{words.notSound}</p>;
  if (joints === null || pegOn === null || !result || isOff)
    return <p className="drawing-empty">{whyEmpty}</p>;
  const face = result.facets[facet];
  if (!face || face.outlines.length === 0 || face.isBent) {
    const why = isBent
      ? words.bentAllAlong
      : result.nest || result.touch
        ? words.meetsCurved
        : words.meetsNoFace;
    return <p className="drawing-empty">{why}</p>;
  }
  return <SeamFace {...{ joints, pegOn, process, result, facet, face, contours }} />;
}

/** What stands in place of a face that is not there. */
function whyNoFace(state: BenchState): string {
  if (state.sitting.seamId === null) return words.noFace;
  const refusal = refusalOf(state);
  if (refusal) return words.noFaceFor(messageText(refusal));
  const waits = waitingIn(state).find(({ seamId }) => seamId === state.sitting.seamId);
  if (waits) return words.noFaceFor(lexicon.finding(waits, namesIn(jobOf(state))));
  return isOffFigure(state, state.sitting.seamId) ? words.noFaceHere : words.noFaceYet;
}

/** A peg under a hand is drawn from its sizes: what was worked out of it is only drawn when the hand lets go. */
function isDrawnAlike(state: BenchState, a: SeamResult | null, b: SeamResult | null): boolean {
  const facesAlike =
    a?.facets.length === b?.facets.length &&
    a?.facets.every(({ outlines }, i) => outlines === b?.facets[i].outlines) === true;
  if (!isHeld(state) || !facesAlike) return false;
  const others = (result: SeamResult | null) =>
    result?.joints
      .filter(({ settled: { id } }) => id !== state.sitting.jointId)
      .map(({ settled }) => settled);
  return isSame(others(a), others(b));
}

interface SeamFaceProps {
  joints: readonly AskedJoint[];
  pegOn: Side;
  process: Process;
  result: SeamResult;
  facet: number;
  face: FaceResult;
  contours: WallContour[];
}

function SeamFace({ joints, pegOn, process, result, facet, face, contours }: SeamFaceProps) {
  const actions = useActions();
  const jointId = useBench((s) => s.sitting.jointId);
  const adding = useBench((s) => s.sitting.adding);
  const live = useBench((s) => liveFaceOf(s, result.id));
  const choices = useBench((s) => (adding ? NO_CHOICES : choosableOutlines(s)), isSameList);
  const joining = useBench(joiningOutline);
  const measured = useMemo(() => result.joints.filter((joint) => joint.facet === facet), [result, facet]);
  const settled = useMemo(() => settledJoints(joints, measured, process), [joints, measured, process]);
  const outlining = useBench(({ sitting: { outlining: draft } }) =>
    draft?.seamId === result.id && draft.jointId === jointId ? draft.points : null,
  );
  const inFile = (uv: Vec2) => rounded(fromFrame(face.frame, uv));
  const closeOutline = () => {
    if (outlining === null || outlining.length === 0) return;
    const { min, max } = boundsOf([Float64Array.from(outlining.flat())]);
    const uv: Vec2 = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2];
    const spinDeg = settled.find(({ id }) => id === jointId)?.settled?.spinDeg ?? 0;
    actions.outline.close(
      outlining.map((corner) => inOwnAxes({ uv, pegOn, spinDeg }, corner)),
      inFile(uv),
    );
  };
  return (
    <FaceDrawing
      face={face}
      measured={measured}
      contours={live?.contours ?? contours}
      pegOn={pegOn}
      joints={settled}
      selectedPeg={jointId}
      onSelectPeg={(id) => id !== null && actions.select(result.id, id, 'peg')}
      onPegChange={(id, { uv, sizes }, phase) => {
        if (phase === 'cancel') return actions.gesture.cancel();
        actions.gesture.begin();
        actions.gesture.update(
          (job) => setJoint(job, result.id, id, { ...sizes, ...(uv && { at: inFile(uv) }) }),
          false,
        );
        if (phase === 'commit') actions.gesture.complete();
      }}
      onAddPeg={(uv) => actions.addJoint(inFile(uv))}
      onMissFace={() => actions.say(notice('beside-face'), true)}
      onRemovePeg={actions.removeJoint}
      choices={choices}
      joining={joining}
      onToggleOutline={(place) => {
        const group = choices[place];
        if (group) actions.toggleOutline(group);
      }}
      adding={adding}
      outlining={outlining}
      onOutlineCorner={actions.outline.add}
      onOutlineClose={closeOutline}
      onOutlineTakeBack={actions.outline.takeBack}
      minWallMm={process.minWallMm}
      liveOutline={live}
    />
  );
}
