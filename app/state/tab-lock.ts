/** Which of several tabs keeps the job between visits: the first one, until another takes it over. */

const LOCK = 'pegwright-bench';

export interface TabLock {
  /** Asks for the lock, or takes it from the tab that has it. @returns whether this tab has it now. */
  claim(take: boolean): Promise<boolean>;
  /** Called when another tab has taken it. */
  onLost(listener: () => void): void;
}

/** By the browser's own locks (W3C Web Locks API); where there are none, every tab keeps for itself. */
export function browserTabLock(locks: LockManager | undefined = navigator.locks): TabLock {
  const listeners: (() => void)[] = [];
  const claim = (take: boolean) =>
    new Promise<boolean>((answer) => {
      if (!locks) return answer(true);
      const held = (lock: Lock | null) => {
        answer(lock !== null);
        // Held for as long as the tab lives.
        return lock === null ? Promise.resolve() : new Promise<never>(() => {});
      };
      locks.request(LOCK, take ? { steal: true } : { ifAvailable: true }, held).catch(() => {
        for (const listener of listeners) listener();
      });
    });
  return { claim, onLost: (listener) => listeners.push(listener) };
}
