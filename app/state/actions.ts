import {
  type AskedJoint,
  type Job,
  type Notice,
  notice,
  type PartView,
  partId,
  SCULPT,
  type Seam,
  turnBetween,
  type Vec3,
} from '../../src/index.ts';
import {
  type BenchState,
  faceOnBench,
  isHeld,
  isSculptCurrent,
  jobOf,
  type OnBench,
  type Sitting,
  type Tab,
  type Theme,
} from './bench-state.ts';
import { createEvaluator, patchDerived } from './evaluator.ts';
import { beginGesture, cancelGesture, completeGesture, edit, type History, redo, undo } from './history.ts';
import * as edits from './job-edits.ts';
import { createJointTrying } from './joint-trying.ts';
import { createLimbFitting } from './limb-fitting.ts';
import { createLineDrawing } from './line-drawing.ts';
import { createLookingOver } from './looking-over.ts';
import { createMirroring } from './mirroring.ts';
import { middleSeam } from './new-seam.ts';
import { type Offer, withJoined } from './offers.ts';
import { createOpening } from './opening.ts';
import { createOrdering } from './ordering.ts';
import { createOutlineDrawing } from './outline-drawing.ts';
import { type OutlineGroup, toggleOutline } from './outlines.ts';
import { waitingIn } from './parts.ts';
import type { BenchStore, EnginePort, Shelf, Surroundings } from './ports.ts';
import { refusalMessage } from './refusal.ts';
import { turnFigure } from './sculpt-edits.ts';
import { refitted } from './selection.ts';
import { followNames } from './side-names.ts';

const SAVE_AFTER_MS = 400;

export type Actions = ReturnType<typeof createActions>;

/** Everything a person can do, over one store. Nothing here knows React or the DOM. */
export function createActions(store: BenchStore, engine: EnginePort, shelf: Shelf, around: Surroundings) {
  const evaluator = createEvaluator(store, engine);
  const looking = createLookingOver(store, engine);
  const onUnsound = () => void looking.lookOver();
  const opening = createOpening({ store, engine, shelf, around, evaluator, onUnsound });
  let saving: ReturnType<typeof setTimeout> | undefined;

  const job = (): Job => jobOf(store.getState());
  const sit = (patch: Partial<Sitting>) =>
    store.setState((s) => ({ ...s, sitting: { ...s.sitting, ...patch } }));

  const fit = () => sit({ fitCount: store.getState().sitting.fitCount + 1 });
  const tell = (said: Notice) => patchDerived(store, { message: { tone: 'info', said, job: job() } });

  function saveNow(): void {
    clearTimeout(saving);
    saving = undefined;
    opening.keep();
  }
  function changeHistory(
    change: (h: BenchState['saved']['history']) => BenchState['saved']['history'],
    live = false,
  ) {
    const before = job();
    const { history } = store.getState().saved;
    const changed = change(history);
    if (changed === history) return;
    store.setState((s) => refitted({ ...s, saved: { ...s.saved, history: changed } }));
    if (job() === before) return;
    if (live && isSculptCurrent(store.getState())) evaluator.live();
    else workOut();
    saveSoon();
  }
  /** A gesture is saved when it is over. */
  function saveSoon(): void {
    clearTimeout(saving);
    if (!isHeld(store.getState())) saving = setTimeout(saveNow, SAVE_AFTER_MS);
  }
  /** Makes what is shown what the job says. */
  function workOut(): void {
    if (isSculptCurrent(store.getState())) evaluator.now();
    else void opening.reopen();
  }
  const edited = (h: History<OnBench>, change: (job: Job) => Job) =>
    edit(h, { ...h.present, job: followNames(h.present.job, change(h.present.job)) });
  const apply = (change: (job: Job) => Job) => changeHistory((h) => edited(h, change));
  /** Names and all as they are given. */
  const replaceJob = (next: Job) => changeHistory((h) => edit(h, { ...h.present, job: next }));
  const ordering = createOrdering({ store, engine, apply, replaceJob, tell });

  const gesture = {
    begin: () => changeHistory(beginGesture),
    /** From what there was at the beginning: moves do not add up. `held`: parts only once the hand lets go, where every move would cut anew. */
    update: (change: (job: Job) => Job, held: boolean) =>
      changeHistory((h) => edited({ ...h, present: h.before ?? h.present }, change), held),
    complete: () => {
      changeHistory(completeGesture);
      workOut();
      saveSoon();
    },
    cancel: () => changeHistory(cancelGesture),
  };

  /** Without a joint: the one that is chosen, if it is of the seam, else some other. */
  function select(seamId: string | null, jointId: string | null, tab: Tab): void {
    sit({
      seamId,
      jointId,
      tab,
      facet: null,
      adding: false,
      seeking: false,
      drawing: null,
      outlining: null,
      linePoint: 0,
      mirroring: null,
    });
    store.setState(refitted);
    evaluator.now();
  }
  function addJoint(at: AskedJoint['at']): void {
    const { seamId } = store.getState().sitting;
    const seam = edits.findSeam(job(), seamId);
    if (seam === null) return;
    const id = edits.newJointId(seam);
    apply((j) => edits.addJoint(j, seam.id, at));
    select(seam.id, id, 'peg');
  }
  /** Takes a joint of the chosen seam away; the one in its place is chosen then. */
  function removeJoint(jointId: string): void {
    const seam = edits.findSeam(job(), store.getState().sitting.seamId);
    if (seam === null || isHeld(store.getState())) return;
    const wasChosen = store.getState().sitting.jointId === jointId;
    const place = seam.joints.findIndex(({ id }) => id === jointId);
    apply((j) => edits.removeJoint(j, seam.id, jointId));
    if (!wasChosen) return;
    const left = edits.findSeam(job(), seam.id)?.joints ?? [];
    sit({ jointId: (left[place] ?? left.at(-1))?.id ?? null });
    store.setState(refitted);
    evaluator.now();
  }
  /** Adds a seam through the middle of a part; answers its id. */
  function addSeam(part: Pick<PartView, 'id' | 'name' | 'boundsMm'>): string {
    const taken = job().seams.map((s) => s.id);
    const name = part.id === partId(SCULPT) ? '' : part.name;
    const seam = middleSeam(part.id, part.boundsMm, taken, name);
    apply((j) => edits.addSeam(j, seam));
    select(seam.id, null, 'seam');
    return seam.id;
  }

  /** Joins two bodies where they touch; null where they no longer can be. */
  function joinBodies(offer: Offer): string | null {
    const joined = withJoined(store.getState(), offer);
    if (joined === null) return null;
    apply(() => joined.job);
    select(joined.seam.id, null, 'seam');
    return joined.seam.id;
  }

  const trying = createJointTrying(store, engine, apply);
  const limbs = createLimbFitting(store, engine, { sit, apply, tell });
  const line = createLineDrawing({ store, sit, apply, tell });
  const outline = createOutlineDrawing({
    store,
    sit,
    apply,
    refuse: (said) => patchDerived(store, { message: { tone: 'error', said, job: job() } }),
  });
  /** Adds a seam that was made of another, and chooses it. */
  function addMade(seam: Seam): void {
    apply((j) => edits.addSeam(j, seam));
    select(seam.id, null, 'seam');
  }
  const mirroring = createMirroring(store, engine, { sit, tell, add: addMade });

  async function exportPart(partId: string | null): Promise<void> {
    patchDerived(store, { busy: { what: 'exporting', step: null, done: null } });
    try {
      const made = await engine.export(job(), partId, (step, done) =>
        patchDerived(store, { busy: { what: 'exporting', step, done } }),
      );
      around.download(made.name, made.file);
      patchDerived(store, { busy: null });
      const waiting = waitingIn(store.getState()).length;
      tell(notice('exported', { file: made.name, proving: made.proving, waiting }));
    } catch (thrown) {
      patchDerived(store, { busy: null, message: refusalMessage(thrown, notice('export-stopped'), job()) });
    }
  }
  function saveJobFile(): void {
    const base = job().sculpt.file.replace(/(\.[a-z0-9]{2,4}){1,2}$/i, '');
    around.download(
      `${base}.pegwright.json`,
      new Blob([`${JSON.stringify(job(), null, 2)}\n`], { type: 'application/json' }),
    );
  }

  let crashedOn: Job | null = null;
  engine.onCrash(() => {
    // A job that ends the engine twice would end it for ever: it is left to the person to change it.
    const isAgain = crashedOn === job();
    crashedOn = job();
    evaluator.forget();
    const said = notice(isAgain ? 'lost-again' : 'restarted');
    const message = { tone: 'error' as const, said, job: job() };
    patchDerived(store, { busy: null, message, ...(isAgain && { refusal: { job: job(), message } }) });
    if (!isAgain) workOut();
  });

  return {
    ...opening,
    ...looking,
    ...mirroring,
    /** Turns the sculpt so that it stands on its steadiest side near what is down. */
    standOnBed: () => looking.findRest((down) => apply((j) => turnFigure(j, turnBetween(down, [0, 0, -1])))),
    estimateSkin: engine.estimate,
    apply,
    gesture,
    select,
    addJoint,
    removeJoint,
    addSeam,
    joinBodies,
    ...limbs,
    ...trying,
    line,
    outline,
    ...ordering,
    exportPart,
    saveJobFile,
    saveNow,
    sit,
    undo: () => changeHistory(undo),
    redo: () => changeHistory(redo),
    setAcross: (across: Sitting['across']) => {
      sit({ across });
      evaluator.now();
    },
    /** Cuts one of the outlines of the chosen seam, or leaves it whole; the last one stays cut. */
    toggleOutline: (group: OutlineGroup) => {
      const { seamId } = store.getState().sitting;
      const face = faceOnBench(store.getState(), seamId);
      if (seamId !== null && face !== null) apply((j) => toggleOutline(j, seamId, face, group));
    },
    /** Hides parts, or shows them again, by their ids. */
    hideParts: (ids: readonly string[], is: boolean) => {
      const { hidden } = store.getState().sitting;
      const others = hidden.filter((id) => !ids.includes(id));
      sit({ hidden: is ? [...others, ...ids] : others, alone: null });
    },
    /** Pulls a part away from the rest on the bench, or seats it again. */
    pullPart: (id: string, is: boolean) => {
      const others = store.getState().sitting.apart.filter((one) => one !== id);
      sit({ apart: is ? [...others, id] : others });
    },
    showAllParts: () => sit({ hidden: [], alone: null }),
    /** Shows the build volume around a part, or around the one that fits least, with all of it in view; or no more. */
    showBed: (is: boolean, bedOf: string | null = null) => {
      sit({ bedShown: is, bedOf });
      if (is) fit();
    },
    setTheme: (theme: Theme) => sit({ theme }),
    lookAt: (at: Vec3) => sit({ lookAt: { at } }),
    fit,
    cancelWork: () => engine.cancel(),
    evaluateAgain: workOut,
    dismiss: () => patchDerived(store, { message: null }),
    /** `aboutJob`: until the job is worked out the next time. */
    say: (said: Notice, aboutJob = false) =>
      patchDerived(store, { message: { tone: 'error', said, job: job(), aboutJob } }),
  };
}
