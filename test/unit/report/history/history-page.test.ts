import { describe, expect, it } from 'vitest';
import { create } from 'xmlbuilder2';
import { drawSpec } from '../../../../src/report/charts/draw-spec.ts';
import { historyChart } from '../../../../src/report/charts/history-chart.ts';
import { renderHistory } from '../../../../src/report/history/history-page.ts';
import { historyOfInvented } from '../../../setup/sample-history.ts';

const slowed = historyOfInvented({
  shifts: [{ at: 25, factor: 1.05 }],
  changes: (place) => ({ toolVersion: place < 25 ? '0.1.0' : '0.2.0', invented: true }),
});

describe('the page of a history', () => {
  const page = renderHistory(slowed);

  it('names what changed at the same time, and no cause', () => {
    const flat = page.replace(/\s+/g, ' ');
    expect(flat).toContain('found by both methods; at the same time as steadyrig (0.1.0 → 0.2.0)');
    expect(flat).toMatch(/level changed before 2026-02-25 -600: [45](\.\d+)? % worse \(ratio 0\.9/);
    expect(flat).not.toMatch(/because|due to|caused by/i);
    expect(flat).toContain('INVENTED DATA');
  });

  it('stays within 80 columns, also of hundreds of sittings', () => {
    const long = renderHistory(historyOfInvented({ sittings: 300 }));
    for (const line of [...page.split('\n'), ...long.split('\n')])
      expect([...line].length, line).toBeLessThanOrEqual(80);
    expect(long.replace(/\s+/g, ' ')).toContain('the latest 70 of 300');
  });

  it('draws each sitting of the plot once, a change below the first sitting after it', () => {
    const plot = page.split('\n').filter((line) => /^.{10}[ ●x─┄]*$/.test(line) && line !== '');
    expect(plot.join('').match(/[●x]/g)).toHaveLength(40);
    const change = page.split('\n').find((line) => line.startsWith('   change')) ?? '';
    const mark = page.split('\n').find((line) => line.startsWith('     mark')) ?? '';
    expect(change.indexOf('|')).toBe(mark.indexOf('a', 10));
  });

  it('says why there are no limits', () => {
    const flat = renderHistory(historyOfInvented({ sittings: 3 })).replace(/\s+/g, ' ');
    expect(flat).toContain('limits need a baseline of 8 sittings, there are 3 sittings');
    expect(flat).not.toContain('no signal and');
  });

  it('prints nothing that could disguise the terminal', () => {
    const odd = historyOfInvented({
      sittings: 9,
      changes: (place) => ({ levels: { memory: place < 5 ? 'a' : '\u001b[2J\u202eevil' } }),
    });
    const shown = renderHistory(odd);
    for (const sign of ['\u001b', '\u202e']) expect(shown.includes(sign)).toBe(false);
  });
});

describe('the chart of a history', () => {
  it('is well-formed, has a point for each sitting, and takes hostile names for text', async () => {
    const odd = historyOfInvented({
      changes: (place) => ({ levels: { memory: place < 5 ? 'a' : '"/><script>' }, invented: true }),
    });
    const svg = await drawSpec(historyChart({ ...odd, rig: '<b>&"' }, 'light'));
    expect(() => create(svg)).not.toThrow();
    expect(svg).not.toContain('<script');
    expect(svg).not.toContain('<b>');
    expect(svg).toContain('INVENTED DATA');
    const symbols = svg.match(/<g class="mark-symbol role-mark"[^>]*>(.*?)<\/g>/)?.[1] ?? '';
    expect(symbols.match(/<path /g)).toHaveLength(40);
  });
});
