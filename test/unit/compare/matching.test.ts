import { describe, expect, it } from 'vitest';
import { compareRigs } from '../../../src/compare/compare-rigs.ts';
import type { Unmatched } from '../../../src/model/comparison.ts';
import type {
  ComparedRig,
  SittingFigures,
  WorkloadFigures,
} from '../../../src/model/comparison-request.ts';
import {
  sampleFigures,
  sampleMetric,
  sampleRequest,
  sampleWorkloadFigures,
} from '../../setup/figures.ts';
import { unwrap } from '../../setup/unwrap.ts';

const shared = sampleWorkloadFigures([sampleMetric([1, 1.01])], { workload: 'shared' });

/** A rig with a workload that both have, and one more. */
function rig(
  label: string,
  more: WorkloadFigures | null,
  changes: Partial<SittingFigures> = {},
): ComparedRig {
  const workloads = more === null ? [shared] : [shared, more];
  return { label, sittings: [sampleFigures(label, 0, workloads, changes)] };
}

const pack = (changes: Partial<WorkloadFigures> = {}, unit = 's'): WorkloadFigures =>
  sampleWorkloadFigures([sampleMetric([1, 1.01], { unit })], changes);

function unmatched(
  own: ComparedRig,
  other: ComparedRig,
  allowRevision = false,
): readonly Unmatched[] {
  return unwrap(compareRigs(sampleRequest(own, [other], { allowRevision }))).unmatched;
}

const xz = (version: string | null, sha: string): SittingFigures['programs'] => [
  { name: 'xz', version, sha256: sha.repeat(64) },
];

describe('what is not compared, and why', () => {
  it.each([
    ['another unit', pack({}, 'By'), 'not on one scale: s, lower is better; the candidate: By'],
    ['other parameters', pack({ parameters: { threads: 4 } }), 'threads 4'],
    ['no such workload', null, 'wall has figures on the baseline only'],
    [
      'no good repeat',
      { ...pack(), metrics: [sampleMetric([])] },
      'wall has figures on the baseline only',
    ],
    [
      'only failed runs',
      { ...pack({ failed: 3 }), metrics: [sampleMetric([])] },
      'on the baseline only; of its runs on bench-b: 3 failed',
    ],
    [
      'only excluded runs',
      pack({ excluded: [0, 1] }),
      'on the baseline only; of its runs on bench-b: 2 excluded by the operator',
    ],
  ] as const)('%s', (_, other, reason) => {
    const [found, ...more] = unmatched(rig('bench-a', pack()), rig('bench-b', other));
    expect(more).toEqual([]);
    expect(found).toMatchObject({ candidate: 'bench-b', workload: 'pack' });
    expect(found?.reason).toContain(reason);
  });

  it('a workload that only the candidate has', () => {
    expect(unmatched(rig('bench-a', null), rig('bench-b', pack()))).toEqual([
      { candidate: 'bench-b', workload: 'pack', reason: 'wall has figures on bench-b only' },
    ]);
  });

  it('two versions of a program, unless allowed', () => {
    const own = rig('bench-a', pack({ programs: ['xz'] }), { programs: xz('5.4.1', 'a') });
    const other = rig('bench-b', pack({ programs: ['xz'] }), { programs: xz('5.6.0', 'b') });
    expect(unmatched(own, other)[0]?.reason).toBe(
      'two versions of a program are two workloads: xz 5.4.1; the candidate: xz 5.6.0; --allow-revision compares them all the same',
    );
    const allowed = unwrap(compareRigs(sampleRequest(own, [other], { allowRevision: true })));
    expect(allowed.unmatched).toEqual([]);
    expect(
      allowed.rows.map(({ workload, flags }) => [workload, flags.includes('revision-differs')]),
    ).toEqual([
      ['shared', false],
      ['pack', true],
    ]);
  });

  it('programs that tell no version, by their checksums', () => {
    const own = rig('bench-a', pack({ programs: ['xz'] }), { programs: xz(null, 'a') });
    const other = rig('bench-b', pack({ programs: ['xz'] }), { programs: xz(null, 'b') });
    expect(unmatched(own, other)[0]?.reason).toContain('xz of checksum aaaaaaaaaaaa');
  });

  it('other builds of one version are compared, and told as a difference', () => {
    const own = rig('bench-a', pack({ programs: ['xz'] }), { programs: xz('5.4.1', 'a') });
    const other = rig('bench-b', pack({ programs: ['xz'] }), { programs: xz('5.4.1', 'b') });
    const found = unwrap(compareRigs(sampleRequest(own, [other])));
    expect(found.unmatched).toEqual([]);
    expect(found.differences.map(({ path }) => path)).toEqual(['program.xz']);
    expect(found.flags).toContain('confounded');
  });

  const [figures] = rig('bench-b', null).sittings;
  if (figures === undefined) throw new Error('expected a sitting');
  const revised = { ...figures.suite, revision: 2, digest: 'c'.repeat(64) };

  it('a sitting of another revision of the suite, unless allowed', () => {
    const other = {
      label: 'bench-b',
      sittings: [figures, { ...figures, id: 'other', suite: revised }],
    };
    const [found] = unmatched(rig('bench-a', null), other);
    expect(found?.reason).toBe(
      'sitting other measured the suite harbour revision 2, digest cccccccccccc, expected harbour revision 1, digest aaaaaaaaaaaa; --allow-revision compares them all the same',
    );
    const allowed = unwrap(
      compareRigs(sampleRequest(rig('bench-a', null), [other], { allowRevision: true })),
    );
    expect(allowed.unmatched).toEqual([]);
    expect(allowed.flags).toContain('revision-differs');
    expect(allowed.sides[1]?.sittings).toEqual(['bench-b-0', 'other']);
  });

  it('a sitting that is not finished', () => {
    const other = {
      label: 'bench-b',
      sittings: [figures, { ...figures, id: 'half', state: 'open' as const }],
    };
    expect(unmatched(rig('bench-a', null), other)[0]?.reason).toContain('sitting half is open');
  });

  it('is a problem where it is everything', () => {
    const other = { label: 'bench-b', sittings: [{ ...figures, suite: revised }] };
    const found = compareRigs(sampleRequest(rig('bench-a', null), [other]));
    expect(found.ok).toBe(false);
    expect(found.ok ? [] : found.error.map(({ code }) => code)).toEqual(['not-comparable']);
    for (const nothing of [
      sampleRequest({ label: 'bench-a', sittings: [] }, [rig('bench-b', null)]),
      sampleRequest(rig('bench-a', null), [{ label: 'bench-b', sittings: [] }]),
    ]) {
      const empty = compareRigs(nothing);
      expect(empty.ok ? [] : empty.error.map(({ code }) => code)).toContain('not-comparable');
    }
  });

  it('takes the suite that both sides have', () => {
    const own = {
      label: 'bench-a',
      sittings: [
        figures,
        { ...figures, id: 'later', suite: revised, startedAt: '2026-02-02T00:00:00.000Z' },
      ],
    };
    const found = unwrap(compareRigs(sampleRequest(own, [rig('bench-b', null)])));
    expect(found.sides[0]?.sittings).toEqual(['bench-b-0']);
  });
});
