import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';
import type { Metric, Suite, Workload } from '../../../src/model/suite.ts';
import { parseSuite } from '../../../src/suite/parse-suite.ts';
import { unwrap } from '../../setup/unwrap.ts';

const path = new URL('../../fixtures/suites/valid/every-kind.yaml', import.meta.url);
const text = readFileSync(fileURLToPath(path), 'utf8');

function parse(profile: string | null = null): Suite {
  return unwrap(parseSuite(text, 'a.yaml', shippedCatalog, profile));
}

function workload(id: string, profile: string | null = null): Workload {
  const found = parse(profile).workloads.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no workload ${id}`);
  return found;
}

function metric(of: string, id: string): Metric | undefined {
  return workload(of).metrics.find((each) => each.id === id);
}

describe('what a suite knows about programs', () => {
  it('keeps versions as they were typed and leaves out what is not said', () => {
    expect(parse().programs).toEqual({
      xz: {
        version: { argv: ['xz', '--version'], pattern: 'xz \\(.*\\) (\\d[\\d.]*)' },
        debian: 'xz-utils',
        elsewhere: 'Fedora: xz; macOS: brew install xz',
        atLeast: '5.10',
      },
      '/opt/demo/bin/player': { version: null, debian: null, elsewhere: null, atLeast: null },
      sqlite3: {
        version: { argv: ['sqlite3', '--version'], pattern: '^(\\S+)' },
        debian: 'sqlite3',
        elsewhere: null,
        atLeast: null,
      },
      cmp: { version: null, debian: 'diffutils', elsewhere: null, atLeast: null },
    });
  });
});

describe('amounts', () => {
  it('stand for plain numbers in base units within arguments and variables', () => {
    expect(workload('pack').program).toMatchObject({
      argv: [
        'xz',
        '-6',
        '-c',
        '--memory=67108864',
        ...['{input:corpus}', '{input:own}'],
        '{input:tree}/a.c',
        '{amounts:x}',
      ],
    });
    expect(workload('play').program).toMatchObject({
      argv: [expect.anything(), '--frames', '120'],
    });
    expect(workload('database').environment).toEqual({ ROWS: '200000' });
  });

  it('stand for what is written where they are a whole value', () => {
    expect(workload('pack').inputs['corpus']).toMatchObject({ sizeBytes: 67_108_864 });
    expect(metric('pack', 'speed')?.source).toMatchObject({ work: 67_108_864 });
    expect(metric('play', 'share')?.source).toMatchObject({ work: 120 });
    expect(workload('shipped').program).toMatchObject({
      parameters: { size: 67_108_864, passes: 3 },
    });
  });
});

describe('profiles', () => {
  it('take the place of what the suite states, and leave the rest', () => {
    const short = parse('short');
    expect(short).toMatchObject({
      title: 'Every kind, shortened',
      profile: 'short',
      repeats: { kind: 'fixed', count: 2 },
      warmUps: 0,
      order: 'as-written',
      cooldown: { kind: 'fixed', seconds: 0 },
      limits: { timeSeconds: 5, outputBytes: 67_108_864 },
    });
    expect(workload('pack', 'short').inputs['corpus']).toMatchObject({ sizeBytes: 1_048_576 });
    expect(workload('pack', 'short').limits.timeSeconds).toBe(5);
    expect(workload('database', 'short').limits.timeSeconds).toBe(30);
    expect(workload('shipped', 'short').program).toMatchObject({ parameters: { passes: 3 } });
  });

  it('may only raise one amount and the precision', () => {
    const long = parse('long');
    expect(long).toMatchObject({ title: parse().title, warmUps: 1, repeats: { atLeast: 8 } });
    expect(workload('pack', 'long').inputs['corpus']).toMatchObject({ sizeBytes: 64_000_000 });
  });

  it('leave the suite as written without a name', () => {
    expect(parse()).toMatchObject({ profile: null, repeats: { kind: 'fixed', count: 3 } });
  });
});

describe('inputs', () => {
  it('are generated, files of the user, or archives', () => {
    expect(workload('pack').inputs).toEqual({
      corpus: { kind: 'generated', content: 'mixed', sizeBytes: 67_108_864, seed: 7, sha256: null },
      own: { kind: 'file', path: '/etc/hostname', sha256: '0'.repeat(64) },
      tree: { kind: 'archive', path: 'data/corpus.bin', sha256: null },
    });
    expect(workload('database').inputs['rows']).toMatchObject({ seed: 1 });
    expect(['pack', 'database', 'play'].map((id) => workload(id).pageCache)).toEqual([
      'cold',
      'warm',
      null,
    ]);
  });
});

describe('a scripted workload', () => {
  it('has its steps in their parts', () => {
    const { program } = workload('database');
    expect(program).toMatchObject({ kind: 'scripted' });
    if (program.kind !== 'scripted') return;
    expect(program.setUp).toEqual([
      {
        id: 'make',
        argv: ['sqlite3', 'db'],
        stdin: '{input:rows}',
        stdout: 'made.txt',
        timeSeconds: 1.5,
      },
    ]);
    expect(program.steps.map(({ id }) => id)).toEqual(['load', 'count', 'own']);
    expect(program.steps[1]).toEqual({
      id: 'count',
      argv: ['sqlite3', 'db', 'select 200000'],
      stdin: 'made.txt',
      stdout: null,
      timeSeconds: null,
    });
    expect(program.check.map(({ id }) => id)).toEqual(['same']);
    expect(program.tearDown.map(({ id }) => id)).toEqual(['remove']);
  });

  it('takes figures from steps, streams of steps and files', () => {
    expect(workload('database').metrics.map(({ source }) => source)).toMatchObject([
      { kind: 'accounting', reading: 'wall', step: 'load' },
      { kind: 'accounting', reading: 'cpu', step: null },
      { kind: 'pattern', in: { kind: 'stderr', step: 'make' } },
      { kind: 'json', in: { kind: 'stdout', step: 'count' } },
      { kind: 'file-size', path: 'db' },
      { kind: 'derived', work: 5, per: 'load' },
    ]);
  });

  it('without metrics has the total, which leads, and the time of each step', () => {
    const metrics = workload('steps-alone').metrics.map(({ id, source, unit, better }) => [
      id,
      source.kind === 'accounting' ? source.step : source.kind,
      unit,
      better,
    ]);
    expect(metrics).toEqual([
      ['total', null, 's', 'lower'],
      ['first', 'first', 's', 'lower'],
      ['second', 'second', 's', 'lower'],
    ]);
  });
});

describe('figures', () => {
  it('are rates over a time, and ratios over a size in the unit of the work', () => {
    expect(metric('pack', 'speed')).toMatchObject({ unit: 'By/s', better: 'higher' });
    expect(metric('pack', 'packed')).toMatchObject({ unit: 'By', better: 'lower' });
    expect(metric('pack', 'ratio')).toMatchObject({ unit: '1', better: 'higher' });
  });

  it('of frames imply their unit and direction', () => {
    expect(workload('play').metrics.map(({ id, unit, better }) => [id, unit, better])).toEqual([
      ['average', '{frames}/s', 'higher'],
      ['low', '{frames}/s', 'higher'],
      ['slow', 's', 'lower'],
      ['long', '{frames}', 'lower'],
      ['beyond', 's', 'lower'],
      ['share', '1', 'higher'],
    ]);
  });

  it('of frames tell how their column is to be read', () => {
    expect(workload('play').metrics.map(({ source }) => source)).toMatchObject([
      {
        in: { kind: 'file', path: 'frames.csv' },
        column: 'frame ms',
        delimiter: ',',
        factor: 0.001,
      },
      { in: { kind: 'stdout', step: null }, column: '7', delimiter: ';', factor: 1e-6 },
      { in: { kind: 'stderr', step: null }, delimiter: '\t', factor: 1 },
      { delimiter: '\t', figure: 'long-frames' },
      { figure: 'time-beyond-16.7-ms' },
      {},
    ]);
  });

  it('read by hand have bounds in the base unit and the symbol as written', () => {
    expect(workload('score')).toMatchObject({
      program: {
        kind: 'by-hand',
        instruction: 'Start the demonstration from the menu\nand wait for its last page.\n',
      },
      metrics: [
        {
          source: { kind: 'operator', factor: 1, symbol: 'points', least: 0, most: 100_000 },
          unit: '{points}',
          better: 'higher',
        },
        { source: { factor: 0.001, symbol: 'ms', least: null, most: 1.5 }, unit: 's' },
      ],
    });
  });
});
