import { describe, expect, it } from 'vitest';
import { comparisonFlags } from '../../../../src/model/comparison.ts';
import { qualityKinds, type ReportMetric } from '../../../../src/model/report.ts';
import { noteQuality } from '../../../../src/report/story/note-quality.ts';
import { qualityTitles } from '../../../../src/report/story/quality-titles.ts';
import type { StoryFacts } from '../../../../src/report/story/story-facts.ts';
import { sampleComparison, sampleRow } from '../../../setup/sample-comparison.ts';
import { sampleStory } from '../../../setup/sample-story.ts';

const calm = { rows: [], differences: [], changes: [], unmatched: [], flags: [] };

/** `kind | subject | text`. */
function notes(facts: Partial<StoryFacts>): string[] {
  return noteQuality(sampleStory(facts)).map(
    ({ kind, subject, text }) => `${kind} | ${subject} | ${text}`,
  );
}

describe('what is to be weighed about the data', () => {
  it('is nothing where nothing was odd', () => {
    expect(notes({ comparison: sampleComparison({ ...calm, rows: [sampleRow()] }) })).toEqual([]);
  });

  it('has a heading for every kind', () => {
    expect(Object.keys(qualityTitles).sort()).toEqual([...qualityKinds].sort());
  });

  it('tells of a baseline that was not measured again, though no single figure says so', () => {
    const comparison = sampleComparison({ ...calm, flags: ['baseline-not-repeated'] });
    expect(notes({ comparison })[0]).toMatch(
      /^baseline-drift \| null \| the baseline was not measured again/,
    );
  });

  it('says once that everything rests on single sittings, and names figures and rigs where only some do', () => {
    const rows = [
      sampleRow({ candidate: 'bench-b', flags: ['repeats-only', 'trend'] }),
      sampleRow({ candidate: 'bench-c', flags: ['repeats-only'] }),
      sampleRow({ workload: 'hash', metric: 'wall', flags: ['repeats-only', 'trend'] }),
      sampleRow({ workload: 'copy', flags: ['repeats-only'] }),
    ];
    const found = notes({ comparison: sampleComparison({ ...calm, rows }) });
    expect(found).toEqual([
      'limits | null | one sitting a side and no precision study: it speaks of these two sittings, not of the rigs',
      'trend | pack: speed (bench-b), hash: wall | the repeats of a sitting rise or fall in their order',
    ]);
  });

  it('names the rig alone where all of its figures are flagged', () => {
    const rows = [
      sampleRow({ flags: ['single-sitting'] }),
      sampleRow({ workload: 'hash', flags: ['single-sitting'] }),
      sampleRow({ candidate: 'bench-c' }),
    ];
    expect(notes({ comparison: sampleComparison({ ...calm, rows }) })[0]).toMatch(
      /^limits \| bench-b \| one side has a single sitting/,
    );
  });

  it('passes over no flag but those that are told of runs, sittings and readings', () => {
    const elsewhere = [
      'confounded',
      'side-changed',
      'invented-data',
      'throttled',
      'failed-runs',
      'disturbed-runs',
      'excluded-runs',
    ];
    for (const flag of comparisonFlags) {
      const comparison = sampleComparison({ ...calm, flags: [flag] });
      expect(notes({ comparison }).length, flag).toBe(elsewhere.includes(flag) ? 0 : 1);
    }
  });

  it('tells what differs undeclared once for all rigs that have it in common, before all else', () => {
    const kernel = { path: 'os.kernel', from: '6.1', to: '6.2', absent: null, declared: false };
    const differences = [
      { ...kernel, candidate: 'bench-b' },
      { ...kernel, candidate: 'bench-c' },
      { ...kernel, candidate: 'bench-c', path: 'levels.board', declared: true },
    ];
    const changes = [{ label: 'bench-b', path: 'conditions.ambient', values: ['20 °C', '29 °C'] }];
    expect(notes({ comparison: sampleComparison({ ...calm, differences, changes }) })).toEqual([
      'confounding | bench-b, bench-c | os.kernel: 6.1 → 6.2',
      'changes-within-a-rig | bench-b | conditions.ambient: 20 °C, then 29 °C',
    ]);
  });

  it('gives the operator’s reason for an excluded run, once for all of its figures', () => {
    const run = { sitting: 'one', repeat: 2, value: 1, excluded: 'door open', marks: [] };
    const metric = (name: string): ReportMetric => ({
      ...{ workload: 'pack', workloadTitle: 'Pack', metric: name, unit: 's', better: 'lower' },
      isInIndex: true,
      rigs: [
        {
          ...{ rig: 'bench-b', mean: 1, median: 1, low: null, high: null },
          ...{ basis: 'sittings', cv: null, runs: [run, { ...run, repeat: 3, excluded: null }] },
        },
      ],
    });
    const metrics = [metric('wall'), metric('rate')];
    expect(notes({ metrics, comparison: sampleComparison(calm) })).toEqual([
      'exclusions | bench-b | repeat 2 of pack in one is left out: door open',
    ]);
  });

  it('names sittings and rigs that take no part, and what could not be compared', () => {
    const told = [
      'left out: 20260131-bench-b is interrupted; once it is complete it counts',
      'without a finished sitting so far: bench-c',
      'bench-a: there are only 2',
    ];
    const unmatched = [{ candidate: 'bench-b', workload: null, reason: 'another suite' }];
    const found = notes({ notes: told, comparison: sampleComparison({ ...calm, unmatched }) });
    expect(found).toEqual([
      'left-out | bench-b | another suite',
      `open-sittings | null | ${told[0]}`,
      `open-sittings | null | ${told[1]}`,
    ]);
  });
});
