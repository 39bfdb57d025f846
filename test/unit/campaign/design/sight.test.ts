import { describe, expect, it } from 'vitest';
import { geometryOf, type Term } from '../../../../src/campaign/design/geometry.ts';
import { errorOfPair, errorOfTerm, sightOf } from '../../../../src/campaign/design/sight.ts';
import { sampleSizeOfT } from '../../../../src/stats/power-t.ts';
import { campaignOfRows, fullFactorial } from '../../../setup/design.ts';
import { unwrap } from '../../../setup/unwrap.ts';

const spread = Math.log(1.02);
const row = {
  workload: 'pack',
  metric: 'wall',
  variance: { value: spread ** 2, degreesOfFreedom: 8 },
};

describe('sightOf', () => {
  it('asks for 17 sittings of each of two rigs where the difference is one spread', () => {
    // J. Cohen, Statistical Power Analysis, 2nd ed., table 2.4.1: d = 1, two-sided 5 %, power 0.80, n = 17. R's power.t.test: 16.7.
    const sight = sightOf([row], errorOfPair, {
      ...{ rigs: 2, sittings: 3, differenceThatMatters: 0.02 },
    });
    expect(sight?.sittingsNeeded).toBe(17);
    expect(unwrap(sampleSizeOfT(spread, spread))).toBe(17);
  });

  it('finds what it says it finds four times out of five', () => {
    const planned = { rigs: 4, sittings: 3, differenceThatMatters: 0.02 };
    const { detectable = 0 } = sightOf([row], errorOfPair, planned) ?? {};
    const again = sightOf([row], errorOfPair, { ...planned, differenceThatMatters: detectable });
    expect(again?.power).toBeCloseTo(0.8, 6);
    expect(again?.sittingsNeeded).toBe(3);
  });

  it('goes by the row that shows least, and by the study alone with one sitting', () => {
    const noisy = {
      ...row,
      metric: 'cpu',
      variance: { value: 9 * spread ** 2, degreesOfFreedom: 2 },
    };
    const planned = { rigs: 2, sittings: 1, differenceThatMatters: 0.02 };
    expect(sightOf([row, noisy], errorOfPair, planned)).toMatchObject({ metric: 'cpu' });
    expect(sightOf([], errorOfPair, planned)).toBeNull();
  });

  it('says so where a hundred sittings do not do', () => {
    const planned = { rigs: 2, sittings: 3, differenceThatMatters: 0.001 };
    expect(sightOf([row], errorOfPair, planned)?.sittingsNeeded).toBeNull();
  });
});

describe('errorOfTerm', () => {
  const errorIn = (rows: readonly string[], term: Term): number => {
    const { factors, rigs } = campaignOfRows(rows);
    const geometry = geometryOf(
      factors,
      rigs.map(({ levels }) => levels),
    );
    return errorOfTerm(term, geometry.mains, geometry);
  };

  // A difference of two means of n rigs each has the error sqrt(2/n); a difference of two such differences sqrt(4/n) for cells of n.
  it.each([
    ['two rigs', ['-', '+'], ['a'], Math.sqrt(2)],
    ['a square', fullFactorial(2), ['a'], 1],
    ['a square, interaction', fullFactorial(2), ['a', 'b'], 2],
    ['a cube', fullFactorial(3), ['b'], Math.sqrt(2 / 4)],
    ['a cube, interaction', fullFactorial(3), ['a', 'c'], Math.sqrt(4 / 2)],
    ['the half of a cube', ['--+', '+--', '-+-', '+++'], ['c'], 1],
    ['three levels', ['-', '+', '3'], ['a'], Math.sqrt(2)],
  ] as const)('is that of the means compared: %s', (_, rows, term, expected) => {
    expect(errorIn(rows, term)).toBeCloseTo(expected, 10);
  });
});
