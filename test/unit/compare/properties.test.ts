import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareRigs } from '../../../src/compare/compare-rigs.ts';
import type { Comparison } from '../../../src/model/comparison.ts';
import type { ComparedRig, MetricFigures } from '../../../src/model/comparison-request.ts';
import { sampleRequest, sampleRig } from '../../setup/figures.ts';
import { unwrap } from '../../setup/unwrap.ts';

type Sittings = readonly (readonly number[])[];

/** One to four sittings of one to six repeats, as times from half a second to two. */
const anySittings = fc.array(
  fc.array(fc.double({ min: 0.5, max: 2, noNaN: true }), { minLength: 1, maxLength: 6 }),
  { minLength: 1, maxLength: 4 },
);

function compared(own: Sittings, other: Sittings, metric: Partial<MetricFigures> = {}): Comparison {
  return unwrap(
    compareRigs(
      sampleRequest(sampleRig('bench-a', own, metric), [sampleRig('bench-b', other, metric)]),
    ),
  );
}

/** Baseline and candidate against each other: what a comparison says of them but for labels. */
function figures({ rows, overall }: Comparison): readonly (number | null)[] {
  const [row, index] = [rows[0], overall[0]];
  return [row, index].flatMap((one) => [one?.ratio ?? null, one?.low ?? null, one?.high ?? null]);
}

function close(found: readonly (number | null)[], expected: readonly (number | null)[]): void {
  expect(found.map((value) => value === null)).toEqual(expected.map((value) => value === null));
  for (const [at, value] of expected.entries()) {
    if (value === null || !Number.isFinite(value) || value === 0) continue;
    expect(Math.abs((found[at] ?? 0) / value - 1)).toBeLessThan(1e-6);
  }
}

const scaled = (sittings: Sittings, factor: number): Sittings =>
  sittings.map((values) => values.map((value) => value * factor));

describe('a comparison', () => {
  it('turns over when baseline and candidate change places', () => {
    fc.assert(
      fc.property(anySittings, anySittings, (own, other) => {
        const [there, back] = [figures(compared(own, other)), figures(compared(other, own))];
        const over = (at: number): number | null => {
          const value = back[at] ?? null;
          return value === null ? null : 1 / value;
        };
        close(there, [over(0), over(2), over(1), over(3), over(5), over(4)]);
      }),
    );
  });

  it('does not depend on the unit of the figures', () => {
    fc.assert(
      fc.property(anySittings, anySittings, fc.constantFrom(1e-9, 60, 1e6), (own, other, unit) => {
        close(
          figures(compared(scaled(own, unit), scaled(other, unit))),
          figures(compared(own, other)),
        );
      }),
    );
  });

  it('says the same of times and of the rates they are', () => {
    const rates = (sittings: Sittings): Sittings =>
      sittings.map((values) => values.map((seconds) => 1 / seconds));
    fc.assert(
      fc.property(anySittings, anySittings, (own, other) => {
        const rate = compared(rates(own), rates(other), { unit: 'By/s', better: 'higher' });
        close(figures(rate), figures(compared(own, other)));
      }),
    );
  });

  it('does not depend on the order in which sittings are given', () => {
    const turned = ({ label, sittings }: ComparedRig): ComparedRig => ({
      label,
      sittings: sittings.toReversed(),
    });
    fc.assert(
      fc.property(anySittings, anySittings, (own, other) => {
        const [one, two] = [sampleRig('bench-a', own), sampleRig('bench-b', other)];
        expect(compareRigs(sampleRequest(turned(one), [turned(two)]))).toEqual(
          compareRigs(sampleRequest(one, [two])),
        );
      }),
    );
  });

  it('holds its ratio within its interval, and its verdict to what interval and p say', () => {
    fc.assert(
      fc.property(anySittings, anySittings, (own, other) => {
        for (const { ratio, low, high, adjustedP, verdict } of compared(own, other).rows) {
          if (ratio === null || low === null || high === null) continue;
          expect(low <= ratio && ratio <= high).toBe(true);
          if (verdict === 'better') expect(low > 1 && (adjustedP ?? 1) < 0.05).toBe(true);
          if (verdict === 'worse') expect(high < 1 && (adjustedP ?? 1) < 0.05).toBe(true);
        }
      }),
    );
  });
});
