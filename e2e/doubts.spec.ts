import { expect, test } from '@playwright/test';
import { joinMeshes } from '../src/mend/bodies.ts';
import { moved } from '../test/support/simple-solids.ts';
import { isClosedStl } from '../test/support/stl-check.ts';
import { bytesOf, openFigure, settled } from './bench-page.ts';
import { ball, stlFile } from './figure-files.ts';

test('shells that overlap are told, keep parts from being called proved, and lead to uniting', async ({
  page,
}) => {
  const two = joinMeshes([ball(20), moved(ball(18), [12, 0, 3])]);
  await openFigure(page, 'two.stl', stlFile(two));
  const told = page.locator('.finding', { hasText: 'Shells of the sculpt overlap in 1 place' });
  await expect(told).toBeVisible();
  await expect(
    page.locator('.finding', { hasText: 'cannot be proved: shells of the sculpt overlap' }),
  ).toHaveCount(2);
  await expect(page.getByTestId('status')).toContainText('parts with overlapping shells cannot be proved');

  await told.click();
  await expect(page.getByTestId('defect-overlapping-shells')).toBeVisible();
  await page.getByRole('button', { name: 'Unite', exact: true }).click();
  await page.getByRole('button', { name: 'Accept' }).click();
  await expect(page.getByTestId('agreed')).toContainText('Unite what overlaps');
  await settled(page);
  await expect(told).toHaveCount(0);
  await expect(page.getByTestId('status')).toContainText('parts proved sound');
});

test('parts of a figure far out are saved where the file holds them, which the export says first', async ({
  page,
}) => {
  await openFigure(page, 'far.stl', stlFile(moved(ball(20), [400_000, 0, 0])));
  await expect(page.locator('.finding', { hasText: 'known in steps of' })).toBeVisible();
  await expect(page.locator('.finding', { hasText: 'written moved by' })).toBeVisible();
  await page.getByRole('button', { name: 'Export…' }).click();
  await expect(page.getByTestId('parts-moved')).toContainText(/moved by −400.000, 0, 0 mm/);
  const saving = page.waitForEvent('download');
  await page
    .getByRole('button', { name: /^This part/ })
    .first()
    .click();
  const { closed, min } = isClosedStl(await bytesOf(await saving));
  expect(closed).toBe(true);
  expect(Math.abs(min[0])).toBeLessThan(1000);
});
