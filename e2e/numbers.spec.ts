import { expect, test } from '@playwright/test';
import { openFigure, savedJob } from './bench-page.ts';
import { blockStl } from './figure-files.ts';

interface SavedJob {
  process: { sideGapMm: number; minWallMm: number };
  seams: { by: { offsetMm: number } }[];
}

for (const locale of ['en-GB', 'de-DE']) {
  test.describe(`numbers in a browser of ${locale}`, () => {
    test.use({ locale, permissions: ['clipboard-read', 'clipboard-write'] });

    test('are taken as people type and paste them, and told where they are none', async ({ page }) => {
      await openFigure(page, 'block.stl', blockStl());
      await page.getByRole('tab', { name: 'Process' }).click();
      const gap = page.getByRole('textbox', { name: 'Side gap' });
      const wall = page.getByRole('textbox', { name: 'Least wall' });
      const gapMm = async () => ((await savedJob(page)) as SavedJob).process.sideGapMm;

      for (const [typed, mm] of [
        ['0,2', 0.2],
        ['0.3', 0.3],
        ['1/4', 0.25],
        ['150 µm', 0.15],
        ['0,01 in', 0.254],
      ] as const) {
        await gap.click();
        await gap.press('ControlOrMeta+a');
        await page.keyboard.type(typed);
        await gap.press('Enter');
        expect(await gapMm(), typed).toBeCloseTo(mm, 6);
      }

      await page.evaluate(() => navigator.clipboard.writeText('0,35 mm'));
      await gap.click();
      await gap.press('ControlOrMeta+a');
      await page.keyboard.press('ControlOrMeta+v');
      await wall.click();
      expect(await gapMm()).toBe(0.35);

      // What is no number stays, is told, and changes nothing; Escape takes it back.
      await gap.click();
      await gap.press('ControlOrMeta+a');
      await page.keyboard.type('0,2 kg');
      await gap.press('Enter');
      await expect(gap).toHaveValue('0,2 kg');
      await expect(gap).toHaveAttribute('aria-invalid', 'true');
      await expect(gap).toHaveAccessibleDescription(/“0,2 kg” is no number/);
      expect(await gapMm()).toBe(0.35);
      await gap.press('Escape');
      await expect(gap).toHaveValue('0.35');
      await expect(gap).not.toHaveAttribute('aria-invalid');

      await gap.press('ControlOrMeta+a');
      await page.keyboard.type('80');
      await gap.press('Tab');
      await expect(gap).toHaveAccessibleDescription('At most 5 mm.');
      expect(await gapMm()).toBe(0.35);

      // An arrow goes on from what stands in the field.
      await wall.click();
      await wall.press('ControlOrMeta+a');
      await page.keyboard.type('1,5');
      await wall.press('ArrowUp');
      expect(((await savedJob(page)) as SavedJob).process.minWallMm).toBeCloseTo(1.6, 6);
    });
  });
}

test('a value that came back by undo takes the place of what was typed', async ({ page }) => {
  await openFigure(page, 'block.stl', blockStl());
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  const offset = page.getByRole('textbox', { name: 'Offset' });
  const before = await offset.inputValue();
  await offset.fill('2 in + 10');
  await offset.press('Enter');
  await expect(offset).toHaveValue('60.8');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(offset).toHaveValue(before);
});

test('what was typed for one peg is not taken for another', async ({ page }) => {
  await openFigure(page, 'block.stl', blockStl());
  await page.getByRole('button', { name: 'Add peg' }).click();
  const face = await page.getByTestId('face-outline').boundingBox();
  if (!face) throw new Error('no face drawing');
  await page.mouse.click(face.x + face.width / 2, face.y + face.height * 0.8);
  await expect(page.getByTestId('face-peg-1')).toBeVisible();
  const spin = page.getByRole('textbox', { name: 'Spin' });
  await expect(spin).toBeVisible();
  await spin.fill('nonsense');
  await page.locator('.seam-list').getByRole('button', { name: 'Peg 1' }).click();
  await expect(page.getByRole('tab', { name: 'Peg 1' })).toBeVisible();
  await expect(spin).not.toHaveAttribute('aria-invalid');
  await expect(spin).not.toHaveValue('nonsense');
});
