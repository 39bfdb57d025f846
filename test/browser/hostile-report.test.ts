import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makePage } from '../../src/api/report/make-page.ts';
import type { Report } from '../../src/model/report.ts';
import { openBrowser, visit } from '../setup/browser.ts';
import { needs } from '../setup/needs.ts';
import { sampleReport } from '../setup/sample-report.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const chromium = needs.program('chromium');
let browser: Browser;
beforeAll(async () => {
  if (!chromium.missing) browser = await openBrowser(chromium.path);
});
afterAll(async () => browser?.close());

/** Ways out of text, attribute, script, style, comment and JSON. */
const attacks = [
  '"><script>alert(1)</script>',
  "'><img src=x onerror=alert(1)>",
  '</script><script>alert(1)</script>',
  '</style><script>alert(1)</script>',
  '--><svg onload=alert(1)>',
  '</text></svg><iframe srcdoc="<script>alert(1)</script>">',
  'javascript:alert(1)',
  '\u202e<a href="//example.invalid">x</a>\u0000\u001b[31m',
  '{{constructor.constructor("alert(1)")()}}',
];

// Words that the record's own code fixes, by their keys: not texts of anybody's.
const fixed = new Set([
  'schema',
  'basis',
  'verdict',
  'state',
  'kind',
  'better',
  'flags',
  'outcome',
  'finding',
  'adjust',
  'marks',
  'startedAt',
  'madeAt',
  'unit',
]);

/** The report with every free text replaced, the same text by the same attack, so that labels still fit together. */
function hostile(report: Report): Report {
  const known = new Map<string, string>();
  const replace = (value: unknown, key: string): unknown => {
    if (typeof value === 'string' && !fixed.has(key)) {
      const attack = known.get(value) ?? `${attacks[known.size % attacks.length]}#${known.size}`;
      known.set(value, attack);
      return attack;
    }
    if (Array.isArray(value)) return fixed.has(key) ? value : value.map((one) => replace(one, key));
    if (value === null || typeof value !== 'object') return value;
    return Object.fromEntries(
      Object.entries(value).map(([name, one]) => [
        key === 'levels' ? String(replace(name, 'level')) : name,
        replace(one, name),
      ]),
    );
  };
  return replace(report, '') as Report;
}

describe.skipIf(chromium.missing)('a page of hostile texts', () => {
  it('runs no script, has no foreign element, link or address, and shows the texts as they are', async () => {
    const path = join(temporaryFolder(), 'report.html');
    writeFileSync(path, await makePage(hostile(sampleReport())));
    const { page, complaints } = await visit(browser, path);
    for (const details of await page.locator('details').all())
      await details.evaluate((one) => one.setAttribute('open', ''));
    await page.locator('.strip').first().hover();
    expect(await page.locator('img, iframe, object, embed, base, link, form').count()).toBe(0);
    expect(await page.locator('script').count()).toBe(2);
    expect(await page.locator('a:not([href^="#"])').count()).toBe(0);
    const handlers = await page.evaluate<string[]>(
      "[...document.querySelectorAll('*')].flatMap((one) => one.getAttributeNames().filter((name) => name.startsWith('on')))",
    );
    expect(handlers).toEqual([]);
    expect(complaints).toEqual([]);
    expect(await page.locator('body').innerText()).toContain('<script>alert(1)</script>');
  });

  it('is stopped by the policy of the page even if markup got in', async () => {
    const path = join(temporaryFolder(), 'report.html');
    const page = (await makePage(sampleReport())).replace(
      '<main>',
      '<main><script>document.title = "taken"</script><img src="https://example.invalid/x.png"><p style="position:fixed">x</p>',
    );
    writeFileSync(path, page);
    const seen = await visit(browser, path);
    expect(await seen.page.title()).not.toBe('taken');
    const refused = seen.complaints.filter((text) => text.includes('Content Security Policy'));
    expect(refused.some((text) => text.includes('example.invalid'))).toBe(true);
    expect(refused.length).toBeGreaterThanOrEqual(3);
    expect(
      await seen.page.evaluate("getComputedStyle(document.querySelector('main > p')).position"),
    ).toBe('static');
  });
});
