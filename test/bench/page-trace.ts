import type { Browser, Page } from '@playwright/test';

/** What the page's own thread did, from the browser's trace. Times of its processor, so that whoever else wanted it does not count. */

export interface ThreadEvent {
  name: string;
  /** Begin and length by the clock, µs. */
  ts: number;
  dur: number;
  /** Processor time of the thread, ms. */
  ms: number;
  /** The event dispatched, where it is one. */
  type: string | undefined;
}

interface TraceEvent {
  name: string;
  ph: string;
  pid: number;
  tid: number;
  ts: number;
  dur?: number;
  tdur?: number;
  args: { name?: string; data?: { type?: string } };
}

/** @returns the complete events of the page's own thread while `work` ran, in order of their beginning. */
export async function traced(
  browser: Browser,
  page: Page,
  category: string,
  work: () => Promise<void>,
): Promise<ThreadEvent[]> {
  await browser.startTracing(page, { categories: [category, '__metadata'] });
  await work();
  const trace = JSON.parse((await browser.stopTracing()).toString('utf8')) as { traceEvents: TraceEvent[] };
  const main = new Set(
    trace.traceEvents
      .filter(({ name, args }) => name === 'thread_name' && args.name === 'CrRendererMain')
      .map(({ pid, tid }) => `${pid} ${tid}`),
  );
  return trace.traceEvents
    .filter(({ ph, pid, tid }) => ph === 'X' && main.has(`${pid} ${tid}`))
    .map(({ name, ts, dur = 0, tdur = dur, args }) => ({
      name,
      ts,
      dur,
      ms: tdur / 1000,
      type: args.data?.type,
    }))
    .sort((a, b) => a.ts - b.ts);
}

/** Lengths of a thread's tasks, ms. */
export const taskTimes = (events: readonly ThreadEvent[]): number[] =>
  events.filter(({ name }) => name.endsWith('RunTask')).map(({ ms }) => ms);

const SCRIPT = new Set([
  'EventDispatch',
  'FunctionCall',
  'FireAnimationFrame',
  'TimerFire',
  'RunMicrotasks',
  'v8.run',
  'V8.GCScavenger',
  'MinorGC',
  'MajorGC',
]);

/** Sums the outermost script calls between one pointer move and the next, ms; the last ends where the hand lets go. */
export function scriptPerMove(events: readonly ThreadEvent[]): number[] {
  const sums: number[] = [];
  let end = 0;
  for (const { name, ts, dur, ms, type } of events) {
    if (!SCRIPT.has(name)) continue;
    if (name === 'EventDispatch' && type === 'pointerup') break;
    if (name === 'EventDispatch' && type === 'pointermove') sums.push(0);
    if (ts < end || sums.length === 0) continue;
    end = ts + dur;
    sums[sums.length - 1] += ms;
  }
  return sums.slice(1);
}
