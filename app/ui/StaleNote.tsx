import { type BenchState, staleness } from '../state/bench-state.ts';
import { useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import './StaleNote.css';

/** Why what is shown is an earlier result; a seam's face that runs ahead of the parts (see `live`) is none. */
const stalenessOf = (state: BenchState, faceOf: string | null) => {
  const { live } = state.derived;
  return faceOf !== null && live?.seamId === faceOf ? null : staleness(state);
};

/** Says why what is shown beside it is an earlier result, where it is. Of a seam's face where one is named. */
export function StaleNote({ faceOf = null }: { faceOf?: string | null }) {
  const why = useBench((s) => stalenessOf(s, faceOf));
  return why && <p className="stale-note">{words.stale[why]}</p>;
}

/** Marks what is to look like an earlier result, where it is one. */
export function useStale(faceOf: string | null = null): { 'data-stale'?: true } {
  return useBench((s) => stalenessOf(s, faceOf)) === null ? {} : { 'data-stale': true };
}
