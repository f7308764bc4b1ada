import { AxeBuilder } from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import { torus } from '../test/support/simple-solids.ts';
import { drop, middleOf, openBare, settled } from './bench-page.ts';
import { blockStl, brokenBall, stlFile, touchingStl } from './figure-files.ts';

/** WCAG 2.0 to 2.2 at levels A and AA, and what is good practice beside. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** Nothing but colours changes with the scheme. */
const COLOUR_RULES = ['color-contrast', 'link-in-text-block'];

/** What axe finds wrong with the page as it is now, each with the elements and why; in the dark, of its colours. */
async function wrongs(page: Page, scheme: 'light' | 'dark'): Promise<string[]> {
  // The page has no frames of other origins, so one look in the page itself does.
  const axe = new AxeBuilder({ page }).options({ resultTypes: ['violations'] }).setLegacyMode();
  const { violations } = await (scheme === 'light'
    ? axe.withTags(TAGS)
    : axe.withRules(COLOUR_RULES)
  ).analyze();
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${target.join(' ')}: ${failureSummary}`),
  );
}

const tab = (page: Page, name: string) => page.getByRole('tab', { name }).click();

async function fill(page: Page, label: string, value: string): Promise<void> {
  const field = page.getByRole('textbox', { name: label });
  await field.fill(value);
  await field.press('Enter');
}

/** The states of the page in turn, each left so that the next can be reached from it. */
const STATES: readonly [what: string, reach: (page: Page) => Promise<void>][] = [
  ['a bench without a figure', openBare],
  [
    'a figure on the bench',
    async (page) => {
      await drop(page, [{ name: 'block.stl', buffer: blockStl() }]);
      await settled(page);
      await expect(page.getByTestId('start-card')).toHaveCount(0);
    },
  ],
  ['the fields of a seam', (page) => tab(page, 'Seam')],
  [
    'a click that is waited for',
    async (page) => {
      await page.getByRole('button', { name: 'Narrowest at a click' }).click();
      await page.mouse.move(0, 0);
    },
  ],
  [
    'the fields of a peg',
    async (page) => {
      await page.keyboard.press('Escape');
      await tab(page, 'Peg');
    },
  ],
  ['the fields of the process', (page) => tab(page, 'Process')],
  [
    'a number that is none',
    async (page) => {
      await fill(page, 'Side gap', '0,2 kg');
      await expect(page.getByRole('textbox', { name: 'Side gap' })).toHaveAttribute('aria-invalid', 'true');
    },
  ],
  [
    'the adding of a peg',
    async (page) => {
      await page.getByRole('textbox', { name: 'Side gap' }).press('Escape');
      await page.getByRole('button', { name: 'Add peg' }).click();
    },
  ],
  [
    'the section on the bench',
    async (page) => {
      await page.getByRole('button', { name: 'Add peg' }).click();
      await page.getByRole('button', { name: 'Section' }).click();
    },
  ],
  [
    'parts pulled apart',
    async (page) => {
      await page.getByRole('button', { name: 'Section' }).click();
      await page.getByRole('slider', { name: 'Pull apart' }).press('End');
    },
  ],
  [
    'the build volume around a part',
    async (page) => {
      await page.getByRole('slider', { name: 'Pull apart' }).press('Home');
      await page.getByRole('button', { name: 'Build volume', exact: true }).click();
    },
  ],
  [
    'a seam about to be mirrored',
    async (page) => {
      await tab(page, 'Seam');
      await page.getByRole('button', { name: 'Mirror across…' }).click();
      await expect(page.getByTestId('mirror-fit')).toContainText('of the skin');
    },
  ],
  [
    'a line that is being drawn',
    async (page) => {
      await tab(page, 'Seam');
      // The figure alone fills the bench again.
      await page.getByRole('button', { name: 'Build volume', exact: true }).click();
      await page.keyboard.press('f');
      await page.getByRole('button', { name: 'Draw a line over the figure' }).click();
      await expect(page.getByTestId('mirror-fit')).toHaveCount(0);
      const bench = await page.getByTestId('bench').boundingBox();
      if (!bench) throw new Error('no bench');
      for (const x of [0.2, 0.5, 0.8])
        await page.mouse.click(bench.x + bench.width * x, bench.y + bench.height * 0.55);
      await expect(page.getByText('3 points')).toBeVisible();
    },
  ],
  [
    'a seam along a line',
    async (page) => {
      await page.getByRole('button', { name: 'Done' }).click();
      await settled(page);
      await expect(page.getByTestId('bench').getByRole('button', { name: 'Point 1 of 3' })).toBeVisible();
    },
  ],
  [
    'a list of choices',
    async (page) => {
      await page.getByRole('button', { name: 'Undo' }).click();
      await settled(page);
      await tab(page, 'Seam');
      await page.locator('.fields .choice button').first().click();
      await expect(page.getByRole('listbox')).toBeVisible();
    },
  ],
  [
    'the export',
    async (page) => {
      await page.keyboard.press('Escape');
      await page.getByRole('button', { name: 'Export…' }).click();
      await expect(page.getByRole('dialog')).toBeVisible();
    },
  ],
  [
    'an error among the findings',
    async (page) => {
      await page.keyboard.press('Escape');
      await tab(page, 'Peg');
      await fill(page, 'Length', '60');
      await settled(page);
      await expect(page.locator('.findings .severity[data-severity="error"]').first()).toBeVisible();
    },
  ],
  [
    'two seams in their order, one of them off the figure, which waits',
    async (page) => {
      await tab(page, 'Seam');
      await page.getByRole('button', { name: 'Add seam' }).click();
      await page.getByRole('menuitem').first().click();
      await settled(page);
      await fill(page, 'Offset', '900');
      await expect(page.locator('.entry', { hasText: 'waits' })).toBeVisible();
      await expect(page.getByTestId('seam-order')).toBeVisible();
    },
  ],
  [
    'the export where a seam waits',
    async (page) => {
      await page.getByRole('button', { name: 'Export…' }).click();
      await expect(page.getByTestId('export-waiting')).toBeVisible();
    },
  ],
  [
    'a seam that divides nothing, told and shown as an earlier result',
    async (page) => {
      await page.keyboard.press('Escape');
      await drop(page, [{ name: 'ring.stl', buffer: stlFile(torus(20, 5, 24, 12)) }]);
      await expect(page.getByTestId('status')).toContainText('ring.stl');
      await settled(page);
      await tab(page, 'Seam');
      await page.getByTestId('face-choice-1').focus();
      await page.keyboard.press('Enter');
      await expect(page.getByTestId('standing-refusal')).toBeVisible();
    },
  ],
  [
    'the export of an earlier result',
    async (page) => {
      await page.getByRole('button', { name: 'Export…' }).click();
      await expect(page.getByTestId('export-refused')).toBeVisible();
    },
  ],
  [
    'a window of one column',
    async (page) => {
      await page.keyboard.press('Escape');
      await page.getByRole('button', { name: 'Undo' }).click();
      await settled(page);
      await page.setViewportSize({ width: 390, height: 844 });
    },
  ],
  [
    'bodies that touch, to be joined',
    async (page) => {
      await page.setViewportSize({ width: 1280, height: 800 });
      await drop(page, [{ name: 'lamp.stl', buffer: touchingStl() }]);
      await expect(page.getByRole('button', { name: /where they touch$/ })).toBeVisible();
      await settled(page);
    },
  ],
  [
    'a seam that joins two bodies',
    async (page) => {
      await page.getByRole('button', { name: /where they touch$/ }).click();
      await expect(page.getByText('nothing is cut')).toBeVisible();
      await settled(page);
    },
  ],
  [
    'a broken figure with a flaw that is looked at',
    async (page) => {
      await page.setViewportSize({ width: 1440, height: 900 });
      await drop(page, [{ name: 'broken.stl', buffer: stlFile(brokenBall(30)) }]);
      await page.getByTestId('defect-open-edges').click();
      await middleOf(page, 'defect-mark');
    },
  ],
  [
    'what a remedy would do',
    async (page) => {
      await page.getByRole('button', { name: 'Fill smooth' }).click();
      await expect(page.getByTestId('price')).toContainText('be sound');
    },
  ],
];

const SCHEMES = ['light', 'dark'] as const;

test('axe finds nothing wrong with the page in any of its states, in light colours and in dark', async ({
  page,
}) => {
  test.setTimeout(300_000);
  const found: Record<string, string[]> = {};
  for (const [what, reach] of STATES) {
    await reach(page);
    for (const colorScheme of SCHEMES) {
      await page.emulateMedia({ colorScheme });
      const wrong = await wrongs(page, colorScheme);
      if (wrong.length > 0) found[`${what}, ${colorScheme}`] = wrong;
    }
  }
  expect(found).toEqual({});
});
