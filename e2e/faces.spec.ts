import { expect, type Page, test } from '@playwright/test';
import { freshJob } from '../app/state/new-seam.ts';
import { type Job, PROCESSES, planeSeam } from '../src/index.ts';
import { box, fanned, legged, together } from '../test/support/simple-solids.ts';
import { drop, openBare, savedJob, settled } from './bench-page.ts';
import { stlFile } from './figure-files.ts';

const bounds = { min: [-30, -30, -30], max: [30, 30, 30] } as const;

/** A job for `file` with one level seam at `offsetMm`, and the joints it asks for. */
function levelSeam(file: string, offsetMm: number, joints: Job['seams'][0]['joints']): Job {
  const job = freshJob({ file, unit: 'mm', scale: 1 }, bounds, PROCESSES[0].process);
  const names = { front: 'upper', back: 'lower' };
  return { ...job, seams: [{ ...job.seams[0], by: planeSeam([0, 0, 1], offsetMm), names, joints }] };
}

async function openJob(page: Page, job: Job, stl: Buffer): Promise<void> {
  await openBare(page);
  await drop(page, [
    { name: job.sculpt.file, buffer: stl },
    { name: 'asked.json', buffer: Buffer.from(JSON.stringify(job)) },
  ]);
  await expect(page.getByTestId('status')).toContainText(job.sculpt.file);
}

test('a seam between two bodies is told in words, and nothing stands as if all were well', async ({
  page,
}) => {
  const apart = together(fanned(box([-9, -9, -20], [9, 9, -2])), fanned(box([-9, -9, 2], [9, 9, 20])));
  await openJob(page, levelSeam('apart.stl', 0, [{ id: 'a', kind: 'taper', at: 'auto' }]), stlFile(apart));
  await expect(page.getByTestId('face-drawing')).toContainText('meets no face');
  const told = page.locator('.finding', { hasText: '1 peg could not be placed' });
  await expect(told).toBeVisible();
  await expect(page.getByTestId('busy')).toHaveCount(0, { timeout: 60_000 });
  await expect(page.getByTestId('status')).toContainText('1 error among the findings');
  await expect(page.getByTestId('status')).not.toContainText(/Ready|proved sound/);
  for (const tab of ['Peg 1', 'Seam', 'Sculpt', 'Process']) {
    await page.getByRole('tab', { name: tab }).click();
    await expect(page.locator('body')).not.toContainText('NaN');
    for (const field of await page.getByRole('textbox').all())
      expect(await field.inputValue(), tab).not.toContain('NaN');
  }
});

test('a face that got no peg leads to a peg on each face, which undo takes back', async ({ page }) => {
  const peg = { id: 'a', kind: 'taper', at: [-25, 0, -8], widthMm: 4, heightMm: 4, lengthMm: 4 } as const;
  await openJob(page, levelSeam('legs.stl', -8, [peg]), stlFile(legged()));
  await settled(page);
  const bare = page.locator('.finding', { hasText: 'This seam makes 2 faces, and 1 of them has no peg' });
  await expect(bare).toBeVisible();
  const pegs = async () => ((await savedJob(page)) as Job).seams[0].joints;
  await page.getByRole('button', { name: 'Peg on each face', exact: true }).click();
  await settled(page);
  await expect(bare).toHaveCount(0);
  await expect(page.getByTestId(/^face-peg-\d+$/)).toHaveCount(2);
  expect(await pegs()).toEqual([peg, expect.objectContaining({ id: 'b', kind: 'taper' })]);
  await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  await expect(bare).toBeVisible();
  expect(await pegs()).toEqual([peg]);
});
