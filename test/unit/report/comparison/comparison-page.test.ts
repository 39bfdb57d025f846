import { describe, expect, it } from 'vitest';
import {
  type Comparison,
  type ComparisonRow,
  comparisonFlags,
} from '../../../../src/model/comparison.ts';
import { renderComparisonMarkdown } from '../../../../src/report/comparison/comparison-markdown.ts';
import { renderComparison } from '../../../../src/report/comparison/comparison-page.ts';
import { expectGolden } from '../../../setup/golden.ts';
import { sampleComparison, sampleRow, sampleSide } from '../../../setup/sample-comparison.ts';

/** One sitting a side, nothing but repeats. */
function repeatsOnly(): Comparison {
  const side = { sittings: 1, runs: 5 };
  const row = sampleRow({
    basis: 'repeats-only',
    baselineSummary: sampleSide(36.59e6, side),
    candidateSummary: sampleSide(39.12e6, side),
    flags: ['repeats-only'],
  });
  return sampleComparison({
    rows: [
      row,
      sampleRow({
        ...row,
        workload: 'unpack',
        ratio: 1.01,
        low: 0.96,
        high: 1.0626,
        adjustedP: 0.6,
        verdict: 'undecided',
        needs: { sittings: 1, repeats: 24 },
      }),
    ],
    overall: [],
    differences: [],
    changes: [],
    unmatched: [],
    flags: [],
    sides: [
      { label: 'bench-a 0101', sittings: ['a1'], levels: {} },
      { label: 'bench-b', sittings: ['b1'], levels: {} },
    ],
    baseline: 'bench-a 0101',
  });
}

/** Three candidates, one of them hardly comparable. */
function manyCandidates(): Comparison {
  const names = ['bench-b', 'bench-c', 'bench-with-a-label-as-long-as-labels-are'];
  const shifts = [1, 0.97, 1.2];
  const rows = names.flatMap((candidate, index) =>
    sampleComparison().rows.map((row): ComparisonRow => {
      const shift = (value: number | null): number | null =>
        value === null ? null : value * (shifts[index] ?? 1);
      return {
        ...row,
        candidate,
        ratio: shift(row.ratio),
        low: shift(row.low),
        high: shift(row.high),
      };
    }),
  );
  return sampleComparison({
    rows,
    overall: names.map((candidate, index) => ({
      candidate,
      ratio: shifts[index] ?? 1,
      low: (shifts[index] ?? 1) - 0.011,
      high: (shifts[index] ?? 1) + 0.012,
      workloads: 4,
      without: [],
      flags: [],
    })),
    sides: ['bench-a', ...names].map((label) => ({ label, sittings: ['1', '2', '3'], levels: {} })),
  });
}

const hostile =
  'a|b `c` <script>alert(1)</script> @all [x](https://example.invalid) \u001b[31m\n# d';

function hostileComparison(): Comparison {
  return sampleComparison({
    rows: [sampleRow({ workload: hostile, metric: '**bold**', unit: '{_u_}', candidate: hostile })],
    differences: [
      {
        candidate: hostile,
        path: 'cpu.model',
        from: hostile,
        to: null,
        absent: hostile,
        declared: false,
      },
    ],
    sides: [
      { label: 'bench-a', sittings: ['1'], levels: { memory: hostile } },
      { label: hostile, sittings: ['1'], levels: {} },
    ],
    unmatched: [{ candidate: hostile, workload: hostile, reason: hostile }],
    changes: [{ label: hostile, path: hostile, values: [hostile, null] }],
  });
}

describe('the page of a comparison', () => {
  it.each<[string, Comparison]>([
    ['comparison-sittings', sampleComparison()],
    ['comparison-repeats-only', repeatsOnly()],
    ['comparison-many', manyCandidates()],
  ])('%s reads as approved, in 80 columns', (name, comparison) => {
    const page = renderComparison(comparison);
    for (const line of page.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
    expectGolden(`${name}.txt`, `${page}\n`);
  });

  it('says of repeats only that it speaks of these two sittings', () => {
    const page = renderComparison(repeatsOnly());
    expect(page).toMatch(/^In these two sittings, against bench-a 0101, bench-b was better/);
    expect(page).toContain('not of the');
  });

  it('has a sentence for every flag', () => {
    const page = renderComparison(sampleComparison({ flags: comparisonFlags }));
    for (const flag of comparisonFlags) expect(page).toContain(`! ${flag}: `);
  });

  it('stays within 80 columns and on its lines whatever the files hold', () => {
    const page = renderComparison(hostileComparison());
    expect(page).not.toContain('\u001b');
    for (const line of page.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
    expect(page).not.toMatch(/^# d/m);
  });

  it('names no cause when something undeclared differs', () => {
    expect(renderComparison(sampleComparison())).toContain('No single cause can be');
    const [declared] = sampleComparison().differences;
    const one = sampleComparison({ differences: declared === undefined ? [] : [declared] });
    expect(renderComparison(one)).toContain('Only levels.memory differs, as declared');
    const two = declared === undefined ? [] : [declared, { ...declared, path: 'levels.cooler' }];
    expect(renderComparison(sampleComparison({ differences: two }))).toContain(
      'no single one can be',
    );
  });
});

describe('a comparison in Markdown', () => {
  it('reads as approved', () => {
    expectGolden('comparison-sittings.md', renderComparisonMarkdown(sampleComparison()));
  });

  it('keeps its tables and shows texts as they are, whatever the files hold', () => {
    const text = renderComparisonMarkdown(hostileComparison());
    const bars = text
      .split('\n')
      .filter((line) => line.startsWith('|'))
      .map((line) => line.match(/(?<!\\)\|/g)?.length);
    expect(new Set(bars)).toEqual(new Set([9]));
    expect(text).not.toContain('\u001b');
    expect(text).not.toMatch(/<script|(?<!\\)`|@all|(?<!\\)\[x|https:\/\/|^# d|(?<!\\)\*\*bold/m);
  });
});
