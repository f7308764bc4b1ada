import { describe, expect, it } from 'vitest';
import { createLatest } from '../../src/worker/latest.ts';

/** Work that ends when it is told to. */
function heldWork() {
  const running: { input: string; finish(): void; fail(reason: Error): void }[] = [];
  const started: string[] = [];
  const work = (input: string) =>
    new Promise<string>((resolve, reject) => {
      started.push(input);
      running.push({ input, finish: () => resolve(`${input} done`), fail: reject });
    });
  return { work, running, started };
}

describe('the latest call', () => {
  it('runs at once when nothing runs, and the newest of those that wait next', async () => {
    const { work, running, started } = heldWork();
    const call = createLatest(work);
    const answers = ['a', 'b', 'c', 'd'].map((input) => call(input));
    expect(started).toEqual(['a']);
    expect(await answers[1]).toBe('superseded');
    expect(await answers[2]).toBe('superseded');
    running[0].finish();
    expect(await answers[0]).toBe('a done');
    expect(started).toEqual(['a', 'd']);
    const late = call('e');
    running[1].finish();
    expect(await answers[3]).toBe('d done');
    running[2].finish();
    expect(await late).toBe('e done');
    expect(started).toEqual(['a', 'd', 'e']);
  });

  it('starts anew after it has come to rest', async () => {
    const { work, running } = heldWork();
    const call = createLatest(work);
    for (const input of ['a', 'b']) {
      const answer = call(input);
      running[running.length - 1].finish();
      expect(await answer).toBe(`${input} done`);
    }
  });

  it('passes a failure on, and the next call still runs', async () => {
    const { work, running } = heldWork();
    const call = createLatest(work);
    const [first, second] = [call('a'), call('b')];
    running[0].fail(new Error('no'));
    await expect(first).rejects.toThrow('no');
    running[1].finish();
    expect(await second).toBe('b done');
  });

  it('does not jam when work throws before it answers', async () => {
    let calls = 0;
    const call = createLatest((): Promise<number> => {
      calls++;
      if (calls === 1) throw new Error('at once');
      return Promise.resolve(calls);
    });
    await expect(call()).rejects.toThrow('at once');
    expect(await call()).toBe(2);
  });

  it('refuses the call that waits when told to, and lets the one that runs be', async () => {
    const { work, running, started } = heldWork();
    const call = createLatest(work);
    const answers = ['a', 'b'].map((input) => call(input));
    const refused = expect(answers[1]).rejects.toBe('no more');
    call.drop('no more');
    await refused;
    running[0].finish();
    expect(await answers[0]).toBe('a done');
    expect(started).toEqual(['a']);
  });
});
