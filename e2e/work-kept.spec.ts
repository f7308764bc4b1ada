import { expect, test } from '@playwright/test';
import { choose, kept, openBench, openFigure, savedJob, settled } from './bench-page.ts';
import { boxStl } from './sample-files.ts';

interface SavedJob {
  sculpt: { file: string };
  seams: { id: string; joints: unknown[] }[];
}

test('another figure takes nothing away: undo brings the earlier one back, seams and all', async ({
  page,
}) => {
  await openBench(page);
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await page.getByRole('textbox', { name: 'Offset' }).fill('60');
  await page.getByRole('textbox', { name: 'Offset' }).press('Enter');
  const before = (await savedJob(page)) as SavedJob;

  await choose(page, 'cube.stl', boxStl(40));
  await expect(page.getByTestId('message')).toContainText('Opened cube.stl. Undo brings heron.ply.gz back');
  await settled(page);
  expect(((await savedJob(page)) as SavedJob).sculpt.file).toBe('cube.stl');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByTestId('status')).toContainText('heron.ply.gz');
  await settled(page);
  expect(await savedJob(page)).toEqual(before);

  await page.getByRole('button', { name: 'Demo figure' }).click();
  await expect(page.getByTestId('message')).toContainText(
    'Opened heron.ply.gz. Undo brings the earlier one back',
  );
  await page.getByRole('button', { name: 'Undo' }).click();
  expect(await savedJob(page)).toEqual(before);

  // What is on the bench is what the next visit finds.
  await kept(page, before);
  await page.reload();
  await settled(page);
  expect(await savedJob(page)).toEqual(before);
});

test('two tabs on one job do not write over each other unsaid', async ({ page, context }) => {
  await openFigure(page, 'cube.stl', boxStl(40));
  await kept(page, await savedJob(page));
  await expect(page.getByTestId('kept-elsewhere')).toHaveCount(0);
  const other = await context.newPage();
  await openBench(other);
  await expect(other.getByTestId('kept-elsewhere')).toContainText('open in another tab');
  const before = await savedJob(page);
  await other.getByRole('tab', { name: 'Seam', exact: true }).click();
  await other.getByRole('textbox', { name: 'Offset' }).fill('21');
  await other.getByRole('textbox', { name: 'Offset' }).press('Enter');
  const changed = await savedJob(other);
  await page.reload();
  await settled(page);
  expect(await savedJob(page)).toEqual(before);

  // Reloading let go of the job: this tab found it free, or says that the other has it. One of them keeps it.
  if ((await other.getByTestId('kept-elsewhere').count()) > 0)
    await other.getByRole('button', { name: 'Keep it here instead' }).click();
  await expect(other.getByTestId('kept-elsewhere')).toHaveCount(0);
  await expect(page.getByTestId('kept-elsewhere')).toBeVisible();
  await page.close();
  await other.reload();
  await settled(other);
  expect(await savedJob(other)).toEqual(changed);
});
