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

  it('keeps the order and the filters that were chosen when another baseline is shown', async () => {
    const { page } = await visit(browser, await written());
    await page.getByLabel('Order of the rigs').selectOption('ratio');
    await page.getByLabel('With a verdict').selectOption('worse');
    await page.getByLabel('Baseline of the charts').selectOption({ label: 'rig-3' });
    const ratios = await page
      .locator('figure[data-metric="0"] tbody tr')
      .evaluateAll((rows) => rows.map((row) => Number(row.getAttribute('data-ratio'))));
    expect(ratios).toEqual(ratios.toSorted((a, b) => b - a));
    const other = sampleReport().comparisons.find(({ baseline }) => baseline === 'rig-3');
    const worse = other?.rows.filter(({ verdict }) => verdict === 'worse');
    expect(await page.locator('figure[data-metric]:visible').count()).toBe(
      new Set(worse?.map(({ workload }) => workload)).size,
    );
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

  it('goes from rig to rig by the arrow keys, one stop of the Tab key for each chart', async () => {
    const { page } = await visit(browser, await written());
    const chart = page.locator('figure[data-metric="0"]');
    expect(await chart.locator('.strip[tabindex="0"]').count()).toBe(1);
    await chart.locator('.strip').first().focus();
    const panel = page.locator('#runs-panel');
    for (const [key, at] of [
      ['ArrowDown', 1],
      ['End', 3],
      ['ArrowUp', 2],
      ['Home', 0],
      ['ArrowUp', 0],
    ] as const) {
      await page.keyboard.press(key);
      expect(await panel.innerText()).toContain(
        `${(await firstColumn(page))[at]?.split(/\s/)[0]},`,
      );
    }
    await page.keyboard.press('Tab');
    expect(await page.evaluate('document.activeElement?.textContent')).toBe('Copy as CSV');
  });

  it('keeps what has the focus clear of the panel of runs', async () => {
    const { page } = await visit(browser, await written(), { height: 500 });
    for (const chart of [0, 3, 5]) {
      await page.locator(`figure[data-metric="${chart}"] .strip`).first().focus();
      for (const key of ['End', 'Home']) {
        await page.keyboard.press(key);
        const strip = await page.locator('.strip:focus').boundingBox();
        const panel = await page.locator('#runs-panel').boundingBox();
        expect((strip?.y ?? 0) + (strip?.height ?? 0)).toBeLessThanOrEqual(panel?.y ?? 0);
        expect(strip?.y).toBeGreaterThanOrEqual(0);
      }
    }
  });

  it('lets the pointer go to the panel of runs, to read on in it, and away', async () => {
    const { page } = await visit(browser, await written());
    await page.clock.install();
    const panel = page.locator('#runs-panel');
    await page.locator('figure[data-metric="0"] .strip').first().hover();
    await page.locator('h1').hover();
    await panel.hover();
    await page.clock.runFor(2000);
    expect(await panel.isVisible()).toBe(true);
    await page.locator('h1').hover();
    await page.clock.runFor(2000);
    expect(await panel.isVisible()).toBe(false);
  });

  it('draws an arrow for what lies beyond an axis, on the page as made and against another baseline', async () => {
    const far = sampleReport();
    const [first, ...others] = far.comparisons;
    const stretched = (comparison: typeof first): typeof first => ({
      ...comparison,
      rows: comparison.rows.map((row, at) => (at === 0 ? { ...row, ratio: 9, high: 10 } : row)),
    });
    const report: Report = { ...far, comparisons: [stretched(first), ...others.map(stretched)] };
    const { page } = await visit(browser, await written(report));
    expect(await page.locator('.dot.beyond').count()).toBe(1);
    expect(await page.locator('#workloads > p').first().innerText()).toContain(
      'an arrow at the edge',
    );
    const drawn = await page.locator('.dot.beyond').getAttribute('d');
    await page.getByLabel('Baseline of the charts').selectOption({ label: 'rig-2' });
    expect(await page.locator('.dot.beyond').count()).toBe(1);
    expect(await page.locator('.dot.beyond').getAttribute('d')).toBe(drawn);
    const plain = await visit(browser, await written());
    expect(await plain.page.locator('.dot.beyond').count()).toBe(0);
  });

  it('says what is not there and why, and what its short remarks mean', async () => {
    const bare: Report = { ...sampleReport({ workloads: 1, coursePoints: 0 }), effects: null };
    const { page } = await visit(browser, await written(bare));
    const header = await page.locator('header').innerText();
    expect(header).toContain('what it is worth (no prices are given)');
    expect(header).toContain('what caused it (no factors are named');
    expect(header).toContain('the course of the sittings (no sensor was sampled)');
    expect(header).toContain('one index of all workloads');
    expect(await page.locator('nav a[href="#courses"], nav a[href="#effects"]').count()).toBe(0);
    const whole = await visit(browser, await written());
    const said = whole.page.locator('.remark-texts dt');
    const flags = new Set(sampleReport().comparisons[0].rows.flatMap((row) => row.flags));
    expect(flags.size).toBeGreaterThan(0);
    expect((await said.allTextContents()).toSorted()).toEqual([...flags].toSorted());
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
    expect(await page.locator('#answer .tools').innerText()).toContain('copied');
    expect(await page.locator('#shown').innerText()).toBe('Copy as CSV: The rigs: copied');
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

  it.each([
    [360, 'light'],
    [1280, 'light'],
    [1280, 'dark'],
  ] as const)('has charts as approved at %i pixels (%s)', async (width, scheme) => {
    const { page } = await visit(browser, await written(sampleReport({ workloads: 2 })), {
      width,
      // All at once: what is out of sight is not laid out.
      height: 3000,
      scheme,
    });
    expectPicture(
      `report-page/charts-${width}-${scheme}.png`,
      await page.locator('#workloads').screenshot(),
    );
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
