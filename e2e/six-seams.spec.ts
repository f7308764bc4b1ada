import { createHash } from 'node:crypto';
import { expect, test } from '@playwright/test';
import { unzipSync } from 'fflate';
import type { Job } from '../src/index.ts';
import { jobOf } from '../test/support/job.ts';
import { SIX_SEAMS } from '../test/support/six-seams.ts';
import { bytesOf, choose, openBench, savedJob, settled } from './bench-page.ts';
import { openEdgeCount, stlTriangles } from './stl-measure.ts';

/** The demo figure with six seams of three kinds: opened as a job, changed and changed back, and handed over. */
test('six seams of three kinds make seven parts, which a seam taken away and put back leaves as they were', async ({
  page,
}) => {
  await openBench(page);
  const { sculpt } = (await savedJob(page)) as Job;
  const job = { ...jobOf(SIX_SEAMS), sculpt };
  await choose(page, 'heron.pegwright.json', Buffer.from(JSON.stringify(job)));
  const leaves = page.getByRole('button', { name: /^Hide / });
  await expect(page.getByTestId('seam-order')).toContainText('of 6');
  await settled(page);
  await expect(page.getByTestId('status')).not.toContainText('error');
  const opened = await savedJob(page);
  const files = async () => {
    await page.getByRole('button', { name: 'Export…' }).click();
    const download = page.waitForEvent('download');
    await page.getByTestId('export-all').click();
    const parts = Object.entries(unzipSync(await bytesOf(await download)));
    await page.keyboard.press('Escape');
    return parts;
  };
  const digests = (parts: readonly [string, Uint8Array][]) =>
    parts.map(([name, bytes]) => [name, createHash('sha256').update(bytes).digest('hex')]);
  const before = await files();
  expect(before.map(([, bytes]) => openEdgeCount(stlTriangles(bytes)))).toEqual(before.map(() => 0));
  expect(before.length).toBe(7);
  const count = await leaves.count();

  // The third seam goes, and with it what later ones divide; undone, all is as it was.
  await page.getByRole('button', { name: /^tail front/ }).click();
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await page.getByRole('button', { name: 'Remove seam' }).click();
  await expect(page.locator('.entry', { hasText: 'waits' }).first()).toBeVisible();
  await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  await expect(page.locator('.entry', { hasText: 'waits' })).toHaveCount(0);
  await expect(leaves).toHaveCount(count);
  expect(await savedJob(page)).toEqual(opened);
  expect(digests(await files())).toEqual(digests(before));
});
