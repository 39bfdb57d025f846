import { readFileSync } from 'node:fs';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { tQuantile } from '../../../src/stats/t-quantile.ts';

const table = JSON.parse(
  readFileSync(new URL('../../reference/t-quantiles.json', import.meta.url), 'utf8'),
);

describe('tQuantile', () => {
  // NIST Technical Note 1297, table B.1; two printed digits are known to be wrong (see the file's note).
  it('gives table B.1 of NIST TN 1297 to the last printed digit', () => {
    const wrong = new Set(['1 0.9973', '35 0.9']);
    let compared = 0;
    for (const { df, t } of table.expected.tn1297) {
      for (const [index, coverage] of table.data.coverage_columns.entries()) {
        if (typeof df !== 'number' || wrong.has(`${df} ${coverage}`)) continue;
        const found = tQuantile((1 + coverage) / 2, df);
        expect(Math.abs(found - t[index]), `df ${df}, coverage ${coverage}`).toBeLessThanOrEqual(
          0.00501,
        );
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(140);
  });

  // scipy 1.17.1 and R 4.2.2 agree on these to 1e-10.
  it('gives the exact values of the same table, and those of broken degrees of freedom', () => {
    for (const { df, t } of table.verified_by.exact_tn1297) {
      for (const [index, coverage] of table.data.coverage_columns.entries()) {
        if (typeof df !== 'number') continue;
        expect(tQuantile((1 + coverage) / 2, df) / t[index]).toBeCloseTo(1, 9);
      }
    }
    for (const { df, t } of table.expected.noninteger_t_975) {
      expect(tQuantile(0.975, df) / t).toBeCloseTo(1, 9);
    }
  });

  it('agrees with a second library', () => {
    for (const df of [1, 2, 5, 29, 400]) {
      expect(tQuantile(0.975, df)).toBeCloseTo(jstat.studentt.inv(0.975, df), 5);
    }
  });
});
