import { describe, expect, it } from 'vitest';
import type { Cooldown } from '../../../../src/model/suite.ts';
import { describeMethod } from '../../../../src/report/story/describe-method.ts';
import type { StoryFacts } from '../../../../src/report/story/story-facts.ts';
import { sampleComparison, sampleRow } from '../../../setup/sample-comparison.ts';
import { sampleStory, sampleStorySitting } from '../../../setup/sample-story.ts';
import { sampleSitting, sampleSuite } from '../../../setup/samples.ts';

function method(facts: Partial<StoryFacts> = {}): string {
  return describeMethod(sampleStory(facts)).join('\n');
}
const imported = { file: 'figures.csv', sha256: 'c'.repeat(64), sitting: 'one' };

describe('the method', () => {
  it('says what was run, with the versions of its programs', () => {
    const program = (version: string | null): Parameters<typeof sampleSitting>[0] => ({
      programs: [{ name: 'xz', path: '/usr/bin/xz', sha256: 'd'.repeat(64), version }],
    });
    const sittings = [
      sampleStorySitting({}, program('5.4.1')),
      sampleStorySitting({}, program('5.4.1')),
      sampleStorySitting({}, program(null)),
    ];
    const text = method({ sittings });
    expect(text).toContain(
      'Suite harbour, revision 1 (digest aaaaaaaaaaaa): Pack a folder (pack).',
    );
    expect(text).toContain('Programs: xz 5.4.1 and build dddddddddddd.');
  });

  it('says how often, in what order of rigs and runs, with which seeds', () => {
    const seeded = (rig: string, seed: number): StoryFacts['sittings'][number] =>
      sampleStorySitting({ rig }, { plan: { ...sampleSitting().plan, seed } });
    const suite = sampleSuite({ order: 'shuffled', repeats: { kind: 'fixed', count: 5 } });
    const sittings = [
      seeded('bench-a', 1),
      seeded('bench-a', 1),
      seeded('bench-b', 2),
      seeded('bench-a', 1),
    ];
    expect(method({ suite, sittings })).toContain(
      'in the order of time bench-a (2), bench-b, bench-a. A sitting had 5 repeats of each workload, after one warm-up that is not counted, in an order shuffled anew in each round (seeds 1, 2).',
    );
  });

  it.each<[Cooldown, string]>([
    [{ kind: 'fixed', seconds: 0 }, 'There was no cooldown between runs.'],
    [{ kind: 'fixed', seconds: 90 }, 'Cooldown before each run: 1 min 30 s.'],
    [
      { kind: 'load', below: 0.05, atLeastSeconds: 5, atMostSeconds: 60 },
      '5 s to 1 min 00 s, until the processors were busy for less than 5 % of the time',
    ],
    [
      {
        ...{ kind: 'temperature', until: { kind: 'below', celsius: 45 } },
        ...{ atLeastSeconds: 5, atMostSeconds: 60, withoutSensorSeconds: 30 },
      },
      'until the processor was below 45 °C; 30 s where no sensor tells',
    ],
  ])('says how long runs waited: %j', (cooldown, text) => {
    expect(method({ suite: sampleSuite({ cooldown }) })).toContain(text);
  });

  it('owns up to optional stopping and to attempts that were tried again', () => {
    const repeats = {
      kind: 'adaptive' as const,
      atLeast: 8,
      atMost: 20,
      untilHalfWidthBelow: 0.01,
    };
    const text = method({ suite: sampleSuite({ repeats, retry: { failed: 0, disturbed: 2 } }) });
    expect(text).toContain(
      '8 to 20 repeats of each workload, until the half width of the 95 % interval was below 1 %',
    );
    expect(text).toContain('intervals run a little short of their level');
    expect(text).toContain('the last good attempt counts, whatever its figure');
  });

  it('says of imported figures where they are from, and nothing of how they were measured', () => {
    const sitting = sampleStorySitting({}, { imported, meter: null });
    const text = method({ sittings: [sitting, sitting] });
    expect(text).toContain('How they were measured the figures do not say.');
    expect(text).toContain('All figures are imported, from figures.csv (SHA-256 cccccccccccc).');
    expect(text).not.toMatch(/cooldown|warm-up|Measured with/i);
    expect(method({ sittings: [sitting, sampleStorySitting()] })).toContain(
      '1 of 2 sittings are imported figures, from figures.csv',
    );
  });

  it('names each basis that the intervals have, and none where nothing could be compared', () => {
    const rows = [sampleRow(), sampleRow({ basis: 'repeats-only' })];
    const both = method({ comparison: sampleComparison({ rows }) });
    expect(both).toContain('rest on the spread of repeated sittings');
    expect(both).toContain('they speak of these sittings and not of the rigs');
    expect(both).toContain('adjusted by Holm over all 2 figures');
    const none = method({ comparison: sampleComparison({ rows: [], overall: [] }) });
    expect(none).not.toMatch(/rest on|Holm/);
  });

  it('lists what was not controlled', () => {
    const warned = {
      ...{ check: 'governor', severity: 'warn' as const, workload: null },
      ...{ message: 'is powersave', remedy: 'set it' },
    };
    const sittings = [
      sampleStorySitting({ isSealed: false, isSealChecked: false }, { state: 'cut-short' }),
      sampleStorySitting(
        { rig: 'bench-b' },
        { conditions: { ambientCelsius: null, notes: null }, findings: [warned], assembly: null },
      ),
    ];
    const comparison = sampleComparison({ flags: ['baseline-not-repeated'] });
    const text = method({ sittings, comparison });
    for (const part of [
      'the temperature of the room (not recorded in 1 of 2 sittings)',
      'temperatures and clocks during 2 of 2 sittings (no sensors recorded)',
      'how often rigs were rebuilt (not stated in 1 of 2 sittings)',
      'what differs undeclared (frequency.governors)',
      'what changed within a rig (kernel.release)',
      'what the checks before measuring warned of (governor)',
      'the baseline was not measured again after every rig',
      '1 of 2 sittings not compared with a seal',
      'the single specimen of each part',
    ])
      expect(text).toContain(part);
    expect(text).toContain('1 of 2 sittings ended before all of their runs.');
    expect(text).toContain('Room: 21.5 °C (recorded in 1 of 2 sittings).');
  });

  it('says that sittings of other revisions are among them', () => {
    const other = sampleSuite({ digest: 'e'.repeat(64) });
    const suite = { text: '', textSha256: 'b'.repeat(64), redactions: 0, resolved: other };
    const sittings = [sampleStorySitting(), sampleStorySitting({}, { suite })];
    expect(method({ sittings })).toContain(
      'other revisions or forms of it are among them (digest eeeeeeeeeeee)',
    );
  });
});
