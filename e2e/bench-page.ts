import { readFileSync } from 'node:fs';
import { type Download, expect, type Page } from '@playwright/test';

/** The workbench as a person finds it: opened, and done with its first evaluation. */
export async function openBench(page: Page): Promise<void> {
  await page.goto('/');
  await settled(page);
}

/**
 * The workbench with nothing on it: the demo figure is as if it could not be fetched. For what is about other figures, or
 * about any: the demo's quarter of a million triangles take most of a test's time.
 */
export async function openBare(page: Page): Promise<void> {
  await page.route('**/demo/**', (route) => route.abort());
  await page.goto('/');
  await expect(page.getByTestId('message')).toContainText('demo figure could not be fetched');
}

/** The workbench with one small figure on it, and done with its first evaluation. */
export async function openFigure(page: Page, name: string, buffer: Buffer): Promise<void> {
  await openBare(page);
  await drop(page, [{ name, buffer }]);
  await expect(page.getByTestId('status')).toContainText(name);
  await settled(page);
}

/** Waits until nothing is being worked out and a face is on the table. */
export async function settled(page: Page): Promise<void> {
  await expect(page.getByTestId('face-outline')).toBeVisible({ timeout: 60_000 });
  await expect(page.getByTestId('busy')).toHaveCount(0, { timeout: 60_000 });
}

/** The job as “Save job” hands it out. */
export async function savedJob(page: Page): Promise<unknown> {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save job' }).click();
  return JSON.parse(readFileSync(await (await download).path(), 'utf8'));
}

/** Waits until the browser's own database has the job as it is now, with the files of its sculpt. */
export async function kept(page: Page, job: unknown): Promise<void> {
  await expect.poll(() => page.evaluate(keptJob)).toEqual(job);
}

/** Run in the page: the job in the database (as `idb-keyval` names it), null where its sculpt is not there. */
function keptJob(): Promise<unknown> {
  return new Promise((done, fail) => {
    const opening = indexedDB.open('keyval-store');
    opening.onerror = () => fail(opening.error);
    opening.onsuccess = () => {
      const store = opening.result.transaction('keyval').objectStore('keyval');
      const [job, sculpt] = ['last-job', 'last-sculpt'].map((key) => store.get(key));
      store.transaction.oncomplete = () => {
        opening.result.close();
        done(sculpt.result ? job.result : null);
      };
      store.transaction.onerror = () => fail(store.transaction.error);
    };
  });
}

export async function bytesOf(download: Download): Promise<Uint8Array> {
  return new Uint8Array(readFileSync(await download.path()));
}

/** Offers a file to the page's picker, as if chosen there. */
export async function choose(page: Page, name: string, buffer: Buffer): Promise<void> {
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open…' }).click();
  await (await chooser).setFiles({ name, mimeType: 'application/octet-stream', buffer });
}

/** Drops files onto the page together, by the browser's own event. */
export async function drop(page: Page, files: readonly { name: string; buffer: Buffer }[]): Promise<void> {
  const packed = files.map(({ name, buffer }) => ({ name, base64: buffer.toString('base64') }));
  const dataTransfer = await page.evaluateHandle((all) => {
    const transfer = new DataTransfer();
    for (const { name, base64 } of all) {
      const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
      transfer.items.add(new File([bytes], name));
    }
    return transfer;
  }, packed);
  for (const type of ['dragover', 'drop']) await page.dispatchEvent('main', type, { dataTransfer });
}

/** Middle of an element on the page, CSS px. */
export async function middleOf(page: Page, testId: string): Promise<{ x: number; y: number }> {
  const box = await page.getByTestId(testId).boundingBox();
  if (!box) throw new Error(`${testId} is not on the page`);
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** Drags the left button from one place by an offset, in small moves. */
export async function drag(
  page: Page,
  from: { x: number; y: number },
  by: { x: number; y: number },
  release = true,
): Promise<void> {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  for (let step = 1; step <= 8; step++) {
    await page.mouse.move(from.x + (by.x * step) / 8, from.y + (by.y * step) / 8);
  }
  if (release) await page.mouse.up();
}

/**
 * Run in the page: clicks the button of that name the moment it is there, where a hand would be too slow for a fast
 * machine, and marks in the page's timeline when it was clicked and when it was gone.
 */
export function clickWhenThere(name: string): void {
  let isClicked = false;
  const observer = new MutationObserver(() => {
    const button = [...document.querySelectorAll('button')].find((one) => one.textContent === name);
    if (!isClicked && button) {
      isClicked = true;
      performance.mark(`clicked ${name}`);
      button.click();
    } else if (isClicked && !button) {
      observer.disconnect();
      performance.mark(`gone ${name}`);
    }
  });
  observer.observe(document.body, { childList: true, subtree: true });
}
