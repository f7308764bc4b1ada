import { afterEach, describe, expect, it, vi } from 'vitest';
import { toErrorRecord } from '../../src/errors.ts';
import { createEngine } from '../../src/worker/client.ts';
import { inEnglish } from '../support/in-english.ts';

describe('code that could not be fetched while running', () => {
  it.each([
    'Failed to fetch dynamically imported module: http://localhost/assets/mend.js',
    'error loading dynamically imported module: http://localhost/assets/mend.js',
    'Importing a module script failed.',
  ])('is told as that: %s', (message) => {
    const record = toErrorRecord(new TypeError(message));
    expect(record).toEqual({ code: 'not-loaded', facts: { what: 'step' } });
    expect(inEnglish.refusal(record)).toMatch(/could not be loaded.*connect again/);
  });

  it('is not what any other failure is told as', () => {
    expect(toErrorRecord(new TypeError('x is undefined')).code).toBe('internal');
  });
});

describe('an engine whose script cannot be fetched', () => {
  class MissingWorker extends EventTarget {
    static all: MissingWorker[] = [];
    isEnded = false;
    constructor() {
      super();
      MissingWorker.all.push(this);
    }
    postMessage(): void {}
    terminate(): void {
      this.isEnded = true;
    }
  }

  afterEach(() => vi.unstubAllGlobals());

  it('refuses what it was asked with that reason, is no crash, and is asked for again with the next request only', async () => {
    vi.stubGlobal('Worker', MissingWorker);
    MissingWorker.all = [];
    const engine = createEngine();
    let crashes = 0;
    engine.onCrash(() => crashes++);
    const first = engine.rest();
    MissingWorker.all[0].dispatchEvent(new Event('error', { cancelable: true }));
    await expect(first).rejects.toEqual({ code: 'not-loaded', facts: { what: 'engine' } });
    expect(crashes).toBe(0);
    expect(MissingWorker.all).toHaveLength(1);
    const second = engine.rest();
    expect(MissingWorker.all).toHaveLength(2);
    const crash = Object.assign(new Event('error', { cancelable: true }), { message: 'the engine died' });
    MissingWorker.all[1].dispatchEvent(crash);
    await expect(second).rejects.toMatchObject({ code: 'kernel-lost' });
    expect(crashes).toBe(1);
    expect(MissingWorker.all).toHaveLength(3);
    engine.dispose();
  });
});
