import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from '@playwright/test';
import { buildHeron } from '../src/demo/heron.ts';
import { writeStlBinary } from '../src/io/stl/write.ts';
import { clickWhenThere, openBare, savedJob, settled } from './bench-page.ts';

let folder = '';
let figure = '';

test.beforeAll(() => {
  test.setTimeout(240_000);
  folder = mkdtempSync(join(tmpdir(), 'pegwright-big-'));
  figure = join(folder, 'big-heron.stl');
  writeFileSync(figure, writeStlBinary(buildHeron({ triangles: 900_000 }), [0, 0, 0]));
});

test.afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('0.9 million triangles: opened, cut and pegged; cancelled half-way without a loss; nothing goes out', async ({
  page,
  baseURL,
}) => {
  test.setTimeout(240_000);
  const strangers: string[] = [];
  page.on('request', (request) => {
    const { origin, protocol } = new URL(request.url());
    if (origin !== baseURL && !['blob:', 'data:'].includes(protocol)) strangers.push(request.url());
  });
  await openBare(page);

  // Reading, cutting and pegging, up to the finished parts.
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open…' }).click();
  await (await chooser).setFiles(figure);
  await expect(page.getByTestId('status')).toContainText('big-heron.stl', { timeout: 60_000 });
  await settled(page);
  const area = await page.getByTestId('seam-area').textContent();
  await page.getByTestId('seam-handle').focus();
  await page.keyboard.press('Shift+ArrowUp');
  await expect(page.getByTestId('seam-area')).not.toHaveText(area ?? '');
  await settled(page);

  // Cancel ends the work; the job and the figure stay.
  const before = await savedJob(page);
  const again = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open…' }).click();
  await page.evaluate(clickWhenThere, 'Cancel');
  await (await again).setFiles(figure);
  await expect(page.getByTestId('message')).toHaveText('Opening was stopped. The bench is as it was.');
  await expect(page.getByTestId('status')).toContainText('big-heron.stl');
  await settled(page);
  expect(await savedJob(page)).toEqual(before);
  expect(strangers).toEqual([]);
});
