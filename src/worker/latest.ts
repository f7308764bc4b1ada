/** Calls that take turns. */
export interface Latest<A extends unknown[], T> {
  (...args: A): Promise<T | 'superseded'>;
  /** Refuses the call that waits, if one does. */
  drop(reason: unknown): void;
}

/**
 * Makes calls of `work` take turns, the newest first in line: while one runs, only the
 * last of those that came meanwhile is kept, and the others answer 'superseded'.
 */
export function createLatest<A extends unknown[], T>(work: (...args: A) => Promise<T>): Latest<A, T> {
  interface Waiting {
    args: A;
    resolve(value: T | 'superseded'): void;
    reject(reason: unknown): void;
  }
  let running = false;
  let waiting: Waiting | null = null;

  async function run(call: Waiting): Promise<void> {
    running = true;
    try {
      call.resolve(await work(...call.args));
    } catch (thrown) {
      call.reject(thrown);
    } finally {
      running = false;
      const next = waiting;
      waiting = null;
      if (next) void run(next);
    }
  }

  const call = (...args: A) =>
    new Promise<T | 'superseded'>((resolve, reject) => {
      const next: Waiting = { args, resolve, reject };
      if (!running) {
        void run(next);
        return;
      }
      waiting?.resolve('superseded');
      waiting = next;
    });

  const drop = (reason: unknown) => {
    waiting?.reject(reason);
    waiting = null;
  };
  return Object.assign(call, { drop });
}
