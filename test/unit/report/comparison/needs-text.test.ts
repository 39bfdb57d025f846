import { describe, expect, it } from 'vitest';
import type { ComparisonRow } from '../../../../src/model/comparison.ts';
import { needsText } from '../../../../src/report/comparison/needs-text.ts';
import { sampleRow } from '../../../setup/sample-comparison.ts';

describe('what would settle a row', () => {
  it.each<[Partial<ComparisonRow>, string | null]>([
    [{ needs: null }, null],
    [{ needs: { sittings: 7, repeats: 5 } }, 'about 4 more sittings a side of 5 repeats each'],
    [{ needs: { sittings: 4, repeats: 1 } }, 'about 1 more sitting a side of 1 repeat each'],
    [{ needs: { sittings: 2, repeats: null } }, 'about 2 sittings a side in all'],
    [{ needs: { sittings: null, repeats: 5 } }, 'no number of sittings in reason would'],
    [
      { basis: 'repeats-only', needs: { sittings: 1, repeats: 24 } },
      'several sittings of both rigs, of two such sittings about 24 repeats each',
    ],
    [{ basis: 'repeats-only', needs: { sittings: 1, repeats: null } }, 'several sittings of both'],
  ])('%j', (changes, text) => {
    const found = needsText(sampleRow(changes));
    if (text === null) expect(found).toBeNull();
    else expect(found).toContain(`to settle it: ${text}`);
  });
});
