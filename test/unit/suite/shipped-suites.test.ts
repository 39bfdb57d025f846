import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';
import type { Suite, Workload } from '../../../src/model/suite.ts';
import { estimateSeconds } from '../../../src/plan/estimate.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { parseSuite } from '../../../src/suite/parse-suite.ts';
import { framesOf } from '../../../src/workloads/generate/video.ts';
import { unwrap } from '../../setup/unwrap.ts';

const folder = fileURLToPath(new URL('../../../suites/', import.meta.url));
const names = readdirSync(folder)
  .filter((name) => name.endsWith('.yaml') && name !== 'first-light.yaml')
  .map((name) => name.replace('.yaml', ''));
const profiles = [null, 'many-cores', 'short'] as const;
const forms = names.flatMap((name) => profiles.map((profile) => ({ name, profile })));

function load(name: string, profile: string | null): Suite {
  const text = readFileSync(`${folder}${name}.yaml`, 'utf8');
  return unwrap(parseSuite(text, `${name}.yaml`, shippedCatalog, profile));
}

/** Arguments of all steps. */
function argumentsOf({ program }: Workload): readonly string[] {
  if (program.kind !== 'scripted') return [];
  return [...program.setUp, ...program.steps, ...program.check].flatMap(({ argv }) => argv);
}

function workOf({ metrics }: Workload, id: string): number {
  const source = metrics.find((metric) => metric.id === id)?.source;
  return source?.kind === 'derived' ? source.work : Number.NaN;
}

describe('the suites that are shipped', () => {
  it.each(names)('%s is named like its file and has a Debian package for each program', (name) => {
    const suite = load(name, null);
    expect(suite.id).toBe(name);
    const essential = ['cp', 'ln', 'printf', 'seq', 'sort', 'wc'];
    const started = suite.workloads.flatMap(({ program }) =>
      program.kind === 'scripted'
        ? [...program.setUp, ...program.steps, ...program.check].map(({ argv }) => argv[0])
        : [],
    );
    for (const program of started)
      if (!essential.includes(program) && !program.startsWith('{scratch}/'))
        expect(suite.programs[program]?.debian, program).toEqual(expect.any(String));
  });

  it.each(names)('%s is short, and another suite, with profile short', (name) => {
    const [whole, short] = [load(name, null), load(name, 'short')];
    expect(short).toMatchObject({ repeats: { kind: 'fixed', count: 1 }, warmUps: 0 });
    expect(short.workloads.map(({ id }) => id)).toEqual(whole.workloads.map(({ id }) => id));
    expect(short.digest).not.toBe(whole.digest);
  });

  it.each(forms)('$name counts the pixels that it renders ($profile)', ({ name, profile }) => {
    for (const workload of load(name, profile).workloads) {
      const text = argumentsOf(workload).join(' ');
      const [, width, height] = /\+W(\d+) \+H(\d+)/.exec(text) ?? [];
      if (width === undefined) continue;
      expect(workOf(workload, 'rate'), workload.id).toBe(Number(width) * Number(height));
    }
  });

  it.each(forms)('$name has the frames that it encodes ($profile)', ({ name, profile }) => {
    for (const workload of load(name, profile).workloads) {
      const video = workload.inputs['video'];
      if (video?.kind !== 'generated') continue;
      expect(framesOf(video.sizeBytes), workload.id).toBe(workOf(workload, 'encode'));
    }
  });

  it('give one and the same work the same name in all of them', () => {
    for (const profile of profiles) {
      const seen = new Map<string, Workload>();
      for (const name of names)
        for (const workload of load(name, profile).workloads) {
          expect(workload, `${name}: ${workload.id}`).toEqual(seen.get(workload.id) ?? workload);
          seen.set(workload.id, workload);
        }
      expect(
        load('overnight', profile)
          .workloads.map(({ id }) => id)
          .sort(),
      ).toEqual([...seen.keys()].sort());
    }
  });

  // Seconds of one round on two cores that others kept busy as well: a quiet machine takes about half.
  it('leave the night its 8 hours even when every cooldown takes its longest', () => {
    const suite = load('overnight', null);
    const { cooldown, repeats, workloads } = suite;
    if (cooldown.kind !== 'load' || repeats.kind !== 'adaptive') throw new Error('not adaptive');
    const plan = makePlan(suite, suite.seed);
    expect(plan.runs.length).toBe(workloads.length * (repeats.atMost + 1));
    expect(estimateSeconds(suite, plan).secondsWithConditional).toBeLessThan(8 * 3600);
    const roundSeconds = 300;
    const longest =
      (repeats.atMost + 1) * (roundSeconds + workloads.length * cooldown.atMostSeconds);
    expect(longest).toBeLessThan(8 * 3600);
  });
});
