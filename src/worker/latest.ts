/**
 * Makes calls of `work` take turns, the newest first in line: while one runs, only the
 * last of those that came meanwhile is kept, and the others answer 'superseded'.
 */
export function createLatest<A extends unknown[], T>(
  work: (...args: A) => Promise<T>,
): (...args: A) => Promise<T | 'superseded'> {
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

  return (...args) =>
    new Promise((resolve, reject) => {
      const call: Waiting = { args, resolve, reject };
      if (!running) {
        void run(call);
        return;
      }
      waiting?.resolve('superseded');
      waiting = call;
    });
}
