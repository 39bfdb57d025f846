import { createRequire } from 'node:module';
import { join } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import { cutToWidth, textWidth, wrapToWidth } from '../../../../src/report/charts/text-width.ts';

const fonts = join(
  createRequire(import.meta.url).resolve('source-sans/package.json'),
  '../TTF/SourceSans3-Regular.ttf',
);

/** As the rasterizer lays it out with the shipped font. */
function drawnWidth(text: string): number {
  const escaped = text.replace(/&/g, '&amp;').replace(/</g, '&lt;');
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="9000" height="200"><text x="9" y="99" font-size="100" xml:space="preserve">${escaped}</text></svg>`;
  const font = { fontFiles: [fonts], loadSystemFonts: false, defaultFontFamily: 'Source Sans 3' };
  return new Resvg(svg, { font }).getBBox()?.width ?? 0;
}

describe('widths of texts', () => {
  it.each([
    'first-8',
    '1.0523 (1.0437 … 1.0609)',
    'ratio 0.998 (0.988 … 1.008), = equivalent',
    'Geometric mean of ratios with 95 % intervals; differences within the band do not matter',
    'WWWWWWWW',
    'iiiiiiii',
    'THE BENCH IN CAPITALS',
    'M samples/s; higher is better →',
    '2x16 GiB @ 3200 & <odd> [signs] #7 ~ {x} $',
  ])('are no less than what is drawn, and not much more: %s', (text) => {
    const ratio = textWidth(text, 100) / drawnWidth(text);
    expect(ratio).toBeGreaterThanOrEqual(0.99);
    expect(ratio).toBeLessThan(1.16);
  });

  it('of letters that are as wide as high are taken so', () => {
    expect(textWidth('検査台', 100)).toBeGreaterThanOrEqual(300);
  });

  it('are kept to by cutting and breaking, and nothing is lost that fits', () => {
    const text = 'The quick bench under the tall window with all of its fans running';
    expect(cutToWidth(text, 20, 9999)).toBe(text);
    expect(textWidth(cutToWidth(text, 20, 150), 20)).toBeLessThanOrEqual(150);
    const lines = wrapToWidth(text, 20, { width: 300, most: 9 });
    expect(lines.join(' ')).toBe(text);
    for (const line of lines) expect(textWidth(line, 20)).toBeLessThanOrEqual(300);
    const cut = wrapToWidth(text, 20, { width: 300, most: 2 });
    expect(cut).toHaveLength(2);
    expect(cut[1]).toMatch(/…$/);
    expect(wrapToWidth('x'.repeat(99), 20, { width: 100, most: 2 }).join('')).toMatch(/^x+…$/);
  });
});
