import { describe, expect, it } from 'vitest';
import { simulate } from './cells.ts';
import { adaptiveMethods, type Method, methods } from './methods.ts';
import type { Setting } from './noise.ts';
import { emptyTally, standardError, type Tally } from './tally.ts';

// A short form of `npm run calibrate`: the same simulations, fewer of them. Seeded, so a failure is a change of the engine.

/** What the simulation may stray by, in standard errors. */
const stray = 3;
/** Of intervals, per cent: coverage of 94 %. */
const mostMisses = 6;

const settings: readonly Setting[] = (['normal', 'lognormal'] as const).flatMap((noise) =>
  [0, 1, 2].flatMap((share) =>
    [3, 10].map((repeats) => ({
      ...{ noise, repeats },
      withinSittings: 0.01,
      betweenSittings: share * 0.01,
    })),
  ),
);

/** All settings together. */
function overAll(method: Method, ratio: number, rounds: number): Tally {
  const total = emptyTally();
  for (const setting of settings) {
    const own = simulate(method, setting, { ratio, rounds });
    for (const key of Object.keys(own) as (keyof Tally)[]) total[key] += own[key];
  }
  return total;
}

/** Per cent at most, with what the simulation may stray by. */
function expectAtMost(seen: number, rounds: number, most: number): void {
  const allowed = Math.round((most / 100) * rounds);
  expect(seen / rounds).toBeLessThan(most / 100 + stray * standardError(allowed, rounds));
}

function named(name: string): Method {
  const found = methods.find((method) => method.name === name);
  if (found === undefined) throw new Error(`internal error: no method ${name}`);
  return found;
}

const bounded = [...methods, ...adaptiveMethods.slice(0, 1)].flatMap(({ name, wanted, ...rest }) =>
  wanted === null ? [] : [{ ...rest, name, wanted }],
);

describe('calibration, normal and lognormal noise', () => {
  it.each(bounded)('$name: at most $wanted % of equal rigs are called different', (method) => {
    const { differs, rounds } = overAll(method, 1, 100);
    expectAtMost(differs, rounds, method.wanted);
  });

  // 1.02 is the edge of the difference that matters: there no more than 5 % may be called equivalent.
  it.each(bounded)('$name: 94 % of the intervals hold the true ratio', (method) => {
    const { covers, intervals, rounds, equivalent } = overAll(method, 1.02, 50);
    expect(intervals).toBe(rounds);
    expectAtMost(intervals - covers, intervals, Math.max(mostMisses, method.wanted));
    expectAtMost(equivalent, rounds, 5);
  });
});

describe('calibration of repeats alone', () => {
  // Simulated beforehand by another program: Welch on the repeats of two equal rigs, one sitting each.
  it.each([
    { share: 1, repeats: 3, expected: 18 },
    { share: 2, repeats: 3, expected: 41 },
    { share: 2, repeats: 10, expected: 75 },
  ])('s_b = $share s_r, $repeats repeats: $expected % false alarms', (own) => {
    const setting: Setting = {
      ...{ noise: 'normal', repeats: own.repeats },
      withinSittings: 0.01,
      betweenSittings: own.share * 0.01,
    };
    const { differs, rounds } = simulate(named('repeats only'), setting, {
      ...{ ratio: 1, rounds: 1500 },
    });
    // Half a per cent for the rounding of the expected number.
    const within = stray * standardError(differs, rounds) + 0.005;
    expect(Math.abs(differs / rounds - own.expected / 100)).toBeLessThan(within);
  });

  it('averages of three runs with a margin of 3 % miss a difference of 2 % that sittings find', () => {
    const setting: Setting = {
      ...{ noise: 'normal', repeats: 10 },
      ...{ withinSittings: 0.005, betweenSittings: 0.005 },
    };
    const power = (name: string): number => {
      const { differs, rounds } = simulate(named(name), setting, { ratio: 1.02, rounds: 300 });
      return differs / rounds;
    };
    expect(power('3 runs, 3 % margin')).toBeLessThan(0.3);
    expect(power('sittings 5+5')).toBeGreaterThan(0.8);
  });
});
