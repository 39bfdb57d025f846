import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { formatProblem } from '../../../src/model/problem.ts';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';
import type { Suite } from '../../../src/model/suite.ts';
import { parseSuite } from '../../../src/suite/parse-suite.ts';
import { unwrap } from '../../setup/unwrap.ts';

function parse(text: string): Suite {
  return unwrap(parseSuite(text, 'a.yaml', shippedCatalog));
}

function problemsOf(text: string): string[] {
  const parsed = parseSuite(text, 'a.yaml', shippedCatalog);
  return parsed.ok ? [] : parsed.error.map(formatProblem);
}

function fixture(name: string): string {
  const path = new URL(`../../fixtures/suites/valid/${name}.yaml`, import.meta.url);
  return readFileSync(fileURLToPath(path), 'utf8');
}

describe('parseSuite', () => {
  it('fills in every default', () => {
    expect(parse(fixture('minimal'))).toEqual({
      id: 'minimal',
      title: 'Minimal',
      description: null,
      revision: 1,
      repeats: { kind: 'fixed', count: 5 },
      warmUps: 1,
      order: 'shuffled',
      programs: {},
      profile: null,
      seed: 1,
      cooldown: { kind: 'fixed', seconds: 5 },
      limits: { timeSeconds: 120, outputBytes: 67_108_864 },
      temperatureLimit: { celsius: null, marginKelvin: 5 },
      retry: { failed: 0, disturbed: 0 },
      parkAfter: 3,
      requires: [],
      differenceThatMatters: 0.02,
      workloads: [
        {
          id: 'nothing',
          title: 'nothing',
          program: { kind: 'command', argv: ['true'] },
          inputs: {},
          environment: {},
          affinity: null,
          pageCache: null,
          priority: null,
          limits: { timeSeconds: 120, outputBytes: 67_108_864 },
          expect: { exitCode: 0, output: null },
          metrics: [
            {
              id: 'wall',
              source: { kind: 'accounting', reading: 'wall', step: null },
              unit: 's',
              better: 'lower',
            },
          ],
        },
      ],
      digest: expect.stringMatching(/^[0-9a-f]{64}$/),
    });
  });

  it('resolves the settings of the whole suite', () => {
    expect(parse(fixture('everything'))).toMatchObject({
      description: 'Two lines,\nwith a tab\tinside.\n',
      revision: 7,
      repeats: { kind: 'adaptive', atLeast: 8, atMost: 30, untilHalfWidthBelow: 0.01 },
      warmUps: 2,
      order: 'as-written',
      seed: 4_294_967_295,
      cooldown: { kind: 'load', below: 0.2, atLeastSeconds: 2, atMostSeconds: 90 },
      differenceThatMatters: 0.025,
    });
  });

  it('resolves a command with inputs, environment, limits, expectation and metrics', () => {
    const stdout = { kind: 'stdout', step: null };
    const [command] = parse(fixture('everything')).workloads;
    expect(command).toEqual({
      id: 'own-program',
      title: '2024',
      program: {
        kind: 'command',
        argv: [
          'xz',
          '-9',
          '0x1F',
          '1.10',
          'true',
          'null',
          '{input:corpus}',
          '{other}',
          '--to={scratch}/{cpus}',
        ],
      },
      inputs: {
        corpus: {
          kind: 'file',
          path: 'data/corpus.bin',
          sha256: 'c8481e0203abb65eab84e5d2d380b3af85a66aed82e340064a72b38e79dbf2a8',
        },
      },
      environment: { LEVEL: '09', EMPTY: '', PATH: '/opt/bin' },
      affinity: [0, 1, 2, 3, 6],
      pageCache: null,
      priority: -5,
      limits: { timeSeconds: 0.25, outputBytes: 67_108_864 },
      expect: {
        exitCode: 3,
        output: { of: { kind: 'file', path: 'out/data.bin' }, sha256: '0'.repeat(64) },
      },
      metrics: [
        {
          id: 'wall',
          source: { kind: 'accounting', reading: 'wall', step: null },
          unit: 's',
          better: 'lower',
        },
        {
          id: 'memory',
          source: { kind: 'accounting', reading: 'peak-memory', step: null },
          unit: 'By',
          better: 'lower',
        },
        {
          id: 'speed',
          source: { kind: 'derived', work: 67_108_864, per: 'wall' },
          unit: 'By/s',
          better: 'higher',
        },
        {
          id: 'frames',
          source: { kind: 'derived', work: 1200, per: 'lap' },
          unit: '{frames}/s',
          better: 'higher',
        },
        {
          id: 'score',
          source: { kind: 'pattern', pattern: 'Score: ([0-9.]+)', in: stdout, factor: 1 },
          unit: '{points}',
          better: 'higher',
        },
        {
          id: 'lap',
          source: {
            kind: 'pattern',
            pattern: '([0-9]+) ms',
            in: { kind: 'stderr', step: null },
            factor: 0.001,
          },
          unit: 's',
          better: 'lower',
        },
        {
          id: 'rate',
          source: {
            kind: 'json',
            pointer: '/a~1b/0',
            in: { kind: 'file', path: 'out.json' },
            factor: 1e6,
          },
          unit: 'By/s',
          better: 'higher',
        },
      ],
    });
  });

  it('resolves what is done about heat and failures', () => {
    const times = { atLeastSeconds: 3, atMostSeconds: 240, withoutSensorSeconds: 30 };
    const cooldown = { kind: 'temperature', until: { kind: 'below', celsius: 45 }, ...times };
    expect(parse(fixture('guards'))).toMatchObject({
      cooldown,
      temperatureLimit: { celsius: 90, marginKelvin: 8 },
      retry: { failed: 1, disturbed: 2 },
      parkAfter: 5,
      requires: ['memory', 'disk'],
    });
    const rested = unwrap(parseSuite(fixture('guards'), 'a.yaml', shippedCatalog, 'rested'));
    expect(rested.cooldown).toMatchObject({
      until: { kind: 'near-idle', withinKelvin: 2.5 },
      ...{ atLeastSeconds: 2, atMostSeconds: 600, withoutSensorSeconds: 60 },
    });
  });

  it.each([
    ['90 °C', { celsius: 90, marginKelvin: 5 }],
    ['{ at: 90 °C }', { celsius: 90, marginKelvin: 5 }],
    ['{ margin: 10 K }', { celsius: null, marginKelvin: 10 }],
  ])('takes a temperature limit of %s', (written, limit) => {
    const { temperatureLimit } = parse(`${fixture('minimal')}temperature-limit: ${written}\n`);
    expect(temperatureLimit).toEqual(limit);
  });

  it('gives a shipped workload the parameters and metrics of its catalog entry', () => {
    const [, shipped] = parse(fixture('everything')).workloads;
    const { parameters, metrics } = shippedCatalog.deflate;
    const defaults = Object.entries(parameters).map(([name, rule]) => [name, rule.default]);
    expect(shipped).toMatchObject({
      title: shippedCatalog.deflate.title,
      program: {
        kind: 'shipped',
        name: 'deflate',
        parameters: { ...Object.fromEntries(defaults), threads: 'all', size: 33_554_432 },
      },
      affinity: [0, 1],
      expect: { exitCode: 0, output: null },
      metrics: metrics.map(({ id, pointer, unit, better }) => ({
        id,
        source: { kind: 'json', pointer, in: { kind: 'stdout', step: null }, factor: 1 },
        unit,
        better,
      })),
    });
  });

  it('takes stated metrics of a shipped workload in place of its own', () => {
    expect(parse(fixture('everything')).workloads[2]?.metrics.map(({ id }) => id)).toEqual(['cpu']);
  });

  it('takes a byte order mark and other line ends for what they are', () => {
    const marked = parse(fixture('byte-order-mark'));
    expect(marked.id).toBe('byte-order-mark');
    expect(problemsOf('\ufeffsuite: a\r\ntitle: b\r\nworkload: []\r\n')).toEqual([
      'a.yaml:1:1: `workloads` is missing; expected a list of 1 to 100 workloads',
      'a.yaml:3:1: unknown key `workload`; did you mean `workloads`?',
    ]);
  });

  it('repeats what an alias stands for', () => {
    const [first, second] = parse(fixture('aliases')).workloads;
    expect(second?.program).toEqual(first?.program);
    expect(first?.limits).toEqual({ timeSeconds: 30, outputBytes: 1_048_576 });
  });

  it('freezes the suite through and through', () => {
    const suite = parse(fixture('everything'));
    const [workload] = suite.workloads;
    for (const part of [
      suite,
      suite.repeats,
      workload,
      workload.environment,
      workload.metrics[0].source,
    ])
      expect(Object.isFrozen(part)).toBe(true);
  });

  it('counts columns in UTF-16 units', () => {
    expect(problemsOf('{ suite: a, title: 😀, order: up, workloads: [] }')[0]).toContain(
      'a.yaml:1:31:',
    );
  });

  it('tells only the first fifty of a thousand problems, and how many more there are', () => {
    const keys = Array.from({ length: 1000 }, (_, index) => `key-${index}: 1`).join('\n');
    const problems = problemsOf(`${keys}\n${fixture('minimal')}`);
    expect(problems.length).toBe(51);
    expect(problems.at(-1)).toBe(
      'a.yaml:51:1: more problems from here on: 950; mend those above first',
    );
  });

  it.each([
    ['title: First: light', '1:8: a second `: ` in one value; put text with a colon in quotes'],
    ['title: "open', '1:13: not valid YAML: Missing closing "'],
    ['title: @x', '1:8: not valid YAML: Plain value cannot start with reserved character @'],
    ['- a\n b: c\n', '1:3: a key that goes over several lines'],
  ])('says of %j what is wrong with its YAML', (text, message) => {
    expect(problemsOf(text)[0]).toContain(message);
  });
});
