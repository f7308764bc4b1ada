import { expect, test } from '@playwright/test';
import { openFigure } from './bench-page.ts';
import { blockStl } from './figure-files.ts';

test('the page is light or dark as the system is, or as it was chosen, until the next visit', async ({
  page,
}) => {
  await page.emulateMedia({ colorScheme: 'light' });
  await openFigure(page, 'block.stl', blockStl());
  const looks = () =>
    page.evaluate(() =>
      ['html', '.panel', '.paper', '.bench'].map((one) => {
        const { backgroundColor, backgroundImage, color } = getComputedStyle(document.querySelector(one)!);
        return [backgroundColor, backgroundImage, color];
      }),
    );
  const light = await looks();
  await page.emulateMedia({ colorScheme: 'dark' });
  const dark = await looks();
  dark.forEach((look, i) => {
    expect(look).not.toEqual(light[i]);
  });

  const choose = async (theme: string) => {
    await page.getByRole('button', { name: /Light or dark/ }).click();
    await page.getByRole('option', { name: theme }).click();
  };
  await choose('Light');
  expect(await looks()).toEqual(light);
  await page.emulateMedia({ colorScheme: 'light' });
  await choose('Dark');
  expect(await looks()).toEqual(dark);
  await page.reload();
  await expect(page.locator('.panel').first()).toBeVisible();
  expect((await looks())[0]).toEqual(dark[0]);
});
