import { describe, expect, it } from 'vitest';
import type { MovingContext } from '../../../src/preflight/check.ts';
import { driftSince } from '../../../src/preflight/drift.ts';
import { checkContext, fitCondition, frequency } from '../../setup/check-context.ts';

const GiB = 2 ** 30;

function at(changes: Parameters<typeof fitCondition>[0], memory = 8 * GiB): MovingContext {
  return checkContext({ condition: fitCondition(changes), availableMemoryBytes: memory });
}

const busy = {
  background: { cpus: 8, others: 2, stolen: 0, causes: [{ name: 'decoy-program', cpus: 2 }] },
};
const swapping = { swap: { totalBytes: GiB, usedBytes: GiB, pagesMoved: 500 } };

describe('drift between rounds', () => {
  it('is nothing where nothing has changed', () => {
    expect(driftSince(at({}), at({}))).toEqual([]);
  });

  it('is each new warning by its code, without names of programs', () => {
    const now = at(
      {
        ...busy,
        ...swapping,
        power: 'battery',
        otherSessions: 1,
        ...frequency({ governors: ['performance', 'powersave'] }),
      },
      GiB / 2,
    );
    const drift = driftSince(at({}), now);
    expect(drift.map(({ code }) => code).sort()).toEqual([
      'load',
      'login',
      'swap',
      'swap',
      'unfit',
      'unfit',
    ]);
    expect(drift).toContainEqual({
      code: 'load',
      message: 'before the round: others use 2.00 of 8 CPUs',
    });
    expect(JSON.stringify(drift)).not.toContain('decoy-program');
  });

  it('leaves out what was there at the start, and all notes', () => {
    const start = at({ ...busy, power: 'battery', otherSessions: 1 });
    expect(driftSince(start, start)).toEqual([]);
    const notes = at({ swap: { totalBytes: GiB, usedBytes: GiB, pagesMoved: 0 } });
    expect(driftSince(at({}), notes)).toEqual([]);
  });

  it('counts somebody more as new, and somebody less as nothing', () => {
    const one = at({ otherSessions: 1 });
    const two = at({ otherSessions: 2 });
    expect(driftSince(one, two)).toMatchObject([{ code: 'login' }]);
    expect(driftSince(two, one)).toEqual([]);
    expect(driftSince(at({ otherSessions: null }), one)).toMatchObject([{ code: 'login' }]);
  });

  it('takes swap that begins to move for new, though some was in use at the start', () => {
    const start = at({ swap: { totalBytes: GiB, usedBytes: GiB, pagesMoved: 0 } });
    expect(driftSince(start, at(swapping))).toMatchObject([{ code: 'swap' }]);
  });
});
