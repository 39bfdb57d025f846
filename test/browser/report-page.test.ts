import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { AxeResults } from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makePage } from '../../src/api/report/make-page.ts';
import type { Report } from '../../src/model/report.ts';
import { openBrowser, visit } from '../setup/browser.ts';
import { needs } from '../setup/needs.ts';
import { sampleReport } from '../setup/sample-report.ts';
import { expectPicture } from '../setup/screenshot.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const chromium = needs.program('chromium');
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let browser: Browser;
beforeAll(async () => {
  if (!chromium.missing) browser = await openBrowser(chromium.path);
});
afterAll(async () => browser?.close());

async function written(report: Report = sampleReport()): Promise<string> {
  const path = join(temporaryFolder(), 'report.html');
  writeFileSync(path, await makePage(report));
  return path;
}

function firstColumn(page: Page, chart = 0): Promise<string[]> {
  return page.locator(`figure[data-metric="${chart}"] tbody th`).allInnerTexts();
}

describe.skipIf(chromium.missing)('the page of a report', () => {
  it('opens from disk without a word on the console and without asking any network', async () => {
    const { page, complaints } = await visit(browser, await written());
    await page.mouse.wheel(0, 20_000);
    expect(await page.title()).toBe(
      'INVENTED DATA, for demonstration: Boards for refurbished desktops (invented)',
    );
    expect(await page.locator('h2').allInnerTexts()).toEqual([
      'The answer',
      'All workloads together',
      'Each workload',
      'All verdicts',
      'What caused it',
      'What was in each rig',
      'Course of the sittings',
      'What to weigh',
      'How it was measured',
      'All figures',
      'Where the numbers come from',
    ]);
    expect(await page.evaluate('document.fonts.check(\'16px "Source Sans 3"\')')).toBe(true);
    expect(complaints).toEqual([]);
  });

  it('shows ratios against another baseline, and says so', async () => {
    const { page, complaints } = await visit(browser, await written());
    const row = page.locator('figure[data-metric="0"] tr[data-rig="0"]');
    expect(await row.locator('.ratio-text').innerText()).toBe('1');
    await page.getByLabel('Baseline of the charts').selectOption({ label: 'rig-1' });
    const report = sampleReport();
    const other = report.comparisons.find(({ baseline }) => baseline === 'rig-1');
    const expected = other?.rows.find(
      ({ candidate, workload }) => candidate === 'rig-0' && workload === 'work-0',
    );
    expect(Number(await row.locator('.ratio-text').innerText())).toBeCloseTo(
      expected?.ratio ?? 0,
      2,
    );
    expect(await row.locator('.verdict').innerText()).toContain(expected?.verdict ?? '');
    expect(
      await page.locator('figure[data-metric="0"] tr[data-rig="1"] .verdict').innerText(),
    ).toBe('baseline');
    expect(await page.locator('#shown').innerText()).toBe('Charts are against rig-1');
    expect(await page.locator('#baseline-note').isVisible()).toBe(true);
    expect(complaints).toEqual([]);
  });

  it('sorts rigs by ratio, by value and as they are listed', async () => {
    const { page } = await visit(browser, await written());
    const values = (): Promise<number[]> =>
      page
        .locator('figure[data-metric="0"] tbody tr')
        .evaluateAll((rows) => rows.map((row) => Number(row.getAttribute('data-value'))));
    const order = page.getByLabel('Order of the rigs');
    await order.selectOption('listed');
    expect((await firstColumn(page)).map((text) => text.split(/\s/)[0])).toEqual([
      'rig-0',
      'rig-1',
      'rig-2',
      'rig-3',
    ]);
    await order.selectOption('value');
    expect(await values()).toEqual((await values()).toSorted((a, b) => b - a));
    await order.selectOption('ratio');
    // Less is better here: the best ratio has the smallest value.
    expect(await values()).toEqual((await values()).toSorted((a, b) => a - b));
  });

  it('filters workloads by name and by verdict', async () => {
    const { page } = await visit(browser, await written());
    const shown = (): Promise<number> => page.locator('figure[data-metric]:visible').count();
    expect(await shown()).toBe(6);
    await page.getByLabel('Workloads', { exact: true }).fill('WORK-3');
    expect(await shown()).toBe(1);
    expect(await page.locator('#shown').innerText()).toBe('1 of 6 charts shown');
    await page.getByLabel('Workloads', { exact: true }).fill('');
    await page.getByLabel('With a verdict').selectOption('worse');
    const worse = new Set(
      sampleReport()
        .comparisons[0].rows.filter(({ verdict }) => verdict === 'worse')
        .map(({ workload }) => workload),
    );
    expect(await shown()).toBe(worse.size);
  });

  it('tells the runs behind a bar that is pointed at or has the focus, and goes by Escape', async () => {
    const { page } = await visit(browser, await written());
    const panel = page.locator('#runs-panel');
    const strip = page.locator('figure[data-metric="1"] tr[data-rig="1"] .strip');
    await strip.focus();
    expect(await panel.innerText()).toContain('rig-1, Task work-1: wall');
    expect(await panel.innerText()).toContain('excluded: the door was open');
    await page.keyboard.press('Escape');
    expect(await panel.isVisible()).toBe(false);
    await page.locator('figure[data-metric="0"] tr[data-rig="2"] .strip').hover();
    expect(await panel.innerText()).toContain('rig-2-0: ');
  });

  it('reaches every control by the keyboard alone', async () => {
    const { page } = await visit(browser, await written());
    const seen = new Set<string>();
    for (let presses = 0; presses < 60; presses += 1) {
      await page.keyboard.press('Tab');
      seen.add(
        await page.evaluate(
          "document.activeElement?.closest('label')?.innerText.split('\\n')[0] ?? document.activeElement?.textContent ?? ''",
        ),
      );
    }
    for (const control of [
      'Colours',
      'Baseline of the charts',
      'Order of the rigs',
      'Workloads',
      'With a verdict',
      'show excluded runs',
      'Copy as CSV',
      'Download as SVG',
    ])
      expect(
        [...seen].some((text) => text.startsWith(control)),
        control,
      ).toBe(true);
  });

  it('hides and shows excluded runs', async () => {
    const { page } = await visit(browser, await written());
    const display = (): Promise<unknown> =>
      page.evaluate(
        `getComputedStyle(document.querySelector('figure[data-metric="1"] .out')).display`,
      );
    expect(await display()).not.toBe('none');
    await page.getByLabel('show excluded runs').uncheck();
    expect(await display()).toBe('none');
  });

  it('copies tables as CSV and the method statement as text', async () => {
    const { page } = await visit(browser, await written());
    await page.getByLabel(/^Copy as CSV: The rigs/).click();
    const copied = (): Promise<string> => page.evaluate('navigator.clipboard.readText()');
    expect((await copied()).split('\n')[0]?.trim()).toBe('rig,what it is,board,memory,sittings');
    await page.locator('figure[data-metric="0"]').getByText('Copy as CSV').click();
    const lines = (await copied()).trim().split(/\r?\n/);
    expect(lines).toHaveLength(5);
    expect(lines[0]).toBe('workload,metric,rig,unit,mean,ratio,interval,verdict');
    await page.getByText('Copy the method statement').click();
    expect(await copied()).toContain('Not controlled: the room.');
  });

  it('downloads charts as SVG of their own and all runs as CSV', async () => {
    const { page } = await visit(browser, await written());
    const download = async (press: () => Promise<void>): Promise<string> => {
      const [saved] = await Promise.all([page.waitForEvent('download'), press()]);
      return readFileSync(await saved.path(), 'utf8');
    };
    const svg = await download(() =>
      page.locator('figure[data-metric="0"]').getByText('Download as SVG').click(),
    );
    expect(svg).toMatch(/^<svg/);
    expect(svg).not.toContain('var(--');
    expect(svg).toContain('INVENTED DATA');
    const drawn = await download(() =>
      page.locator('figure.drawn').first().getByText('Download as SVG').click(),
    );
    expect(drawn).not.toContain('var(--');
    const csv = await download(() => page.getByText('Download all runs as CSV').click());
    expect(csv.trim().split('\r\n')).toHaveLength(1 + 4 * 6 * 3 * 5);
    expect(csv).toContain('the door was open');
  });

  it('is whole without JavaScript, and its controls are not there', async () => {
    const { page } = await visit(browser, await written(), { withScript: false });
    expect(await page.locator('figure[data-metric]').count()).toBe(6);
    expect(await page.locator('select:visible, button:visible, input:visible').count()).toBe(0);
    expect(await page.locator('#method-text').innerText()).toContain('Not controlled');
  });

  it.each(['light', 'dark'] as const)(
    'has no serious finding of an accessibility check (%s)',
    async (scheme) => {
      const { page } = await visit(browser, await written(), { scheme });
      for (const details of await page.locator('details').all())
        await details.evaluate((one) => one.setAttribute('open', ''));
      await page.evaluate(axe);
      const { violations } = await page.evaluate<AxeResults>('axe.run()');
      const grave = violations.filter(
        ({ impact }) => impact === 'serious' || impact === 'critical',
      );
      expect(grave.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    },
  );

  it.each([360, 1280, 3840])('looks as approved, and fits, at %i pixels', async (width) => {
    const { page } = await visit(browser, await written(sampleReport({ workloads: 2 })), {
      width,
      height: width === 360 ? 2400 : 1600,
    });
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
    expectPicture(`report-page/${width}.png`, await page.screenshot());
  });

  it('prints in light colours, without controls and with all that is folded', async () => {
    const { page } = await visit(browser, await written(), { scheme: 'dark' });
    await page.emulateMedia({ media: 'print' });
    expect(await page.evaluate('getComputedStyle(document.body).backgroundColor')).toBe(
      'rgb(255, 255, 255)',
    );
    expect(await page.locator('select:visible, button:visible').count()).toBe(0);
  });
});
