import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Metric, OutputPlace } from '../../../src/model/suite.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { until } from './meter/harness.ts';
import { line, scripted, useRunner } from './run-bench.ts';

const measure = useRunner();

const wall = (step: string | null, id = 'wall'): Metric => ({
  id,
  source: { kind: 'accounting', reading: 'wall', step },
  unit: 's',
  better: 'lower',
});
const score = (place: OutputPlace): Metric => ({
  id: 'score',
  source: { kind: 'pattern', pattern: 'score (\\d+)', in: place, factor: 1 },
  unit: '{points}',
  better: 'higher',
});

describe('a scripted run', () => {
  it('takes its steps in order, in one scratch folder, and times only the steps', async () => {
    const workload = scripted({
      setUp: [line('prepare', 'sleep 0.2; echo made > thing')],
      steps: [line('first', 'cat thing; echo first >> thing'), line('second', 'cat thing')],
      check: [line('compare', 'test "$(tail -1 thing)" = first')],
      tearDown: [line('clean', 'cat thing; rm thing')],
    });
    const { record, told, log } = await measure(workload);
    expect(record).toMatchObject({
      outcome: 'ok',
      exit: { kind: 'code', code: 0 },
      logs: null,
      parameters: null,
    });
    expect(record.steps?.map(({ id, part }) => [id, part])).toEqual([
      ['prepare', 'set-up'],
      ['first', 'step'],
      ['second', 'step'],
      ['compare', 'check'],
      ['clean', 'tear-down'],
    ]);
    expect(told).toEqual(['started', 'prepare', 'first', 'second', 'compare', 'clean']);
    const [, first, second, , clean] = record.steps ?? [];
    expect(second?.logs?.stdout.path).toBe('logs/0007-pack.second.stdout.txt');
    expect(log(second?.logs?.stdout.path)).toBe('made\nfirst\n');
    expect(log(clean?.logs?.stdout.path)).toBe('made\nfirst\n');
    const sum = (first?.accounting?.wallSeconds ?? 0) + (second?.accounting?.wallSeconds ?? 0);
    expect(record.accounting?.wallSeconds).toBeCloseTo(sum, 9);
    expect(record.metrics).toMatchObject([{ id: 'wall', value: sum }]);
    expect(sum).toBeLessThan(0.2);
  });

  it('reads figures of one step, before the tear-down takes them away', async () => {
    const workload = scripted(
      {
        setUp: [line('prepare', 'echo score 1')],
        steps: [
          line('load', 'echo score 20; sleep 0.05'),
          line('query', 'echo score 300; printf 12345 > out.bin'),
        ],
        tearDown: [line('clean', 'rm out.bin')],
      },
      {
        metrics: [
          wall('load', 'load'),
          score({ kind: 'stdout', step: 'load' }),
          {
            id: 'size',
            source: { kind: 'file-size', path: 'out.bin' },
            unit: 'By',
            better: 'lower',
          },
          {
            id: 'ratio',
            source: { kind: 'derived', work: 1_234_500, per: 'size' },
            unit: '1',
            better: 'higher',
          },
        ],
      },
    );
    const { record } = await measure(workload);
    const [load, points, size, ratio] = record.metrics;
    expect(load?.value).toBe(record.steps?.[1]?.accounting?.wallSeconds);
    expect([points?.value, size?.value, ratio?.value]).toEqual([20, 5, 246_900]);
  });

  it('passes files between steps by standard input and output, whole and not as logs', async () => {
    const folder = temporaryFolder();
    const parts = join(folder, 'parts list.csv');
    writeFileSync(parts, 'b\na\n');
    const workload = scripted(
      {
        steps: [
          line('sort', 'sort; echo noise >&2', { stdin: '{input:parts}', stdout: 'sorted.txt' }),
          line('many', 'yes 0123456789 | head -c 3000000', { stdout: 'many.txt' }),
          line('count', 'wc -c; cat sorted.txt', { stdin: 'many.txt' }),
        ],
      },
      { limits: { timeSeconds: 10, outputBytes: 10_000 }, inputs: {} },
    );
    const { record, log } = await measure(workload, { inputs: { parts } });
    expect(record.failure).toBeNull();
    const [sort, many, count] = record.steps ?? [];
    expect(log(count?.logs?.stdout.path)).toBe('3000000\na\nb\n');
    expect(log(sort?.logs?.stderr.path)).toBe('noise\n');
    const note = '[steadyrig: 3000000 bytes went to many.txt in the scratch folder]\n';
    expect(log(many?.logs?.stdout.path)).toBe(note);
    expect(many?.logs?.stdout).toMatchObject({
      bytes: 3_000_000,
      keptBytes: note.length,
      sha256: null,
    });
  });

  it('reads a figure from standard output that went to a file', async () => {
    const workload = scripted(
      { steps: [line('work', 'echo score 8', { stdout: 'out.txt' })] },
      { metrics: [score({ kind: 'stdout', step: 'work' })] },
    );
    expect((await measure(workload)).record.metrics).toMatchObject([{ value: 8 }]);
  });

  it('gives every step the placeholders, environment and folder of a command', async () => {
    const workload = scripted(
      {
        setUp: [line('a', 'echo "$0 $1 $2 $PART $PWD $HOME"')].map((step) => ({
          ...step,
          argv: [...step.argv, '{cpus}', '{input:parts}', '{scratch}'] as [string, ...string[]],
        })),
        tearDown: [line('z', 'echo "$PART $PWD"; echo more > left')],
      },
      { environment: { PART: 'x1' } },
    );
    const { record, log } = await measure(workload, { inputs: { parts: '/suite/parts' } });
    const words = log(record.steps?.[0]?.logs?.stdout.path).trim().split(' ');
    const scratch = words[2] ?? '';
    expect(words).toEqual(['2', '/suite/parts', scratch, 'x1', scratch, scratch]);
    expect(log(record.steps?.[2]?.logs?.stdout.path)).toBe(`x1 ${scratch}\n`);
    expect(existsSync(scratch)).toBe(false);
  });
});

describe('a scripted run that fails', () => {
  it('leaves later steps out and still tears down, wherever it failed', async () => {
    const parts = { setUp: 'a', steps: 'b', check: 'c' } as const;
    for (const [at, id] of Object.entries(parts)) {
      const step = (key: string, name: string) =>
        line(name, key === at ? 'echo so sorry >&2; exit 3' : ':');
      const { record } = await measure(
        scripted({
          setUp: [step('setUp', 'a')],
          steps: [step('steps', 'b')],
          check: [step('check', 'c')],
          tearDown: [line('y', 'exit 9'), line('z', ':')],
        }),
      );
      const ran = record.steps?.map((done) => done.id).join('');
      expect(ran).toBe(`${'abc'.slice(0, 'abc'.indexOf(id) + 1)}yz`);
      expect(record).toMatchObject({ outcome: 'failed', metrics: [], exit: { code: 3 } });
      expect(record.failure?.code).toBe(at === 'check' ? 'wrong-output' : 'step-failed');
      expect(record.failure?.message).toMatch(
        new RegExp(`step ${id}: exit code 3, expected 0; standard error ended: "so sorry"`),
      );
      const failed = record.steps?.find((done) => done.id === id);
      expect(failed?.failure?.code).toBe('unexpected-exit-code');
      expect(record.accounting === null).toBe(at === 'setUp');
    }
  });

  it('stays good when only its tear-down fails, which its steps tell', async () => {
    const { record } = await measure(
      scripted({ tearDown: [line('stop', 'echo why >&2; exit 4'), line('rest', ':')] }),
    );
    expect(record).toMatchObject({ outcome: 'ok', exit: { code: 0 } });
    expect(record.steps?.map(({ failure }) => failure?.code ?? null)).toEqual([
      null,
      'unexpected-exit-code',
      null,
    ]);
    expect(record.steps?.[1]?.failure?.message).toContain('why');
  });

  it('holds each step to its own time limit', async () => {
    const { record } = await measure(
      scripted({
        steps: [line('quick', ':'), line('slow', 'sleep 60', { timeSeconds: 0.2 })],
        tearDown: [line('late', 'sleep 60', { timeSeconds: 0.1 })],
      }),
    );
    expect(record.failure).toMatchObject({
      code: 'step-failed',
      message: expect.stringContaining('step slow: still running after the limit of 0.2 s'),
    });
    expect(record.stopped).toMatchObject({ cause: 'time-limit' });
    expect(record.steps?.map(({ failure }) => failure?.code)).toEqual([
      undefined,
      'time-limit',
      'time-limit',
    ]);
  });

  it('takes a check that could not judge for a failed step, not for a wrong result', async () => {
    const absent = { ...line('compare', ''), argv: ['no-such-program-here'] as [string] };
    const { record } = await measure(scripted({ check: [absent] }));
    expect(record.failure).toMatchObject({
      code: 'step-failed',
      message: expect.stringContaining('check step compare: '),
    });
    expect(record.steps?.[1]).toMatchObject({
      exit: null,
      logs: null,
      failure: { code: 'program-not-found' },
    });
  });

  it('counts processes that its steps left behind', async () => {
    const stay = 'sleep 60 & :';
    const { record } = await measure(
      scripted({ setUp: [line('a', stay)], steps: [line('b', stay)], tearDown: [line('c', stay)] }),
    );
    expect(record.outcome).toBe('ok');
    expect(record.leftBehind).toBe(3);
    expect(record.steps?.[1]?.leftBehind).toBe(1);
  });

  it.each([
    ['a file that is not there', { stdin: 'nothing' }, /ENOENT/],
    ['a folder outside', { stdin: '../x' }, /outside the scratch folder/],
    ['a link that leads out', { stdin: 'way-out/precious' }, /outside the scratch folder/],
    ['an unknown input', { stdin: '{input:none}' }, /no input/],
    ['the file that it writes', { stdin: 'self', stdout: './self' }, /emptied before it is read/],
    ['a folder', { stdin: 'folder' }, /not a regular file/],
  ])('does not start a step that reads %s', async (_, streams, reason) => {
    const outside = temporaryFolder();
    writeFileSync(join(outside, 'precious'), 'secret');
    mkdirSync(join(outside, 'sub'));
    const { record } = await measure(
      scripted({
        setUp: [line('links', `ln -s ${outside} way-out; echo x > self; mkdir folder`)],
        steps: [line('work', 'cat', streams)],
      }),
    );
    expect(record.failure?.code).toBe('step-failed');
    expect(record.failure?.message).toMatch(reason);
  });

  it('writes through no link that leads out of its scratch folder', async () => {
    const outside = temporaryFolder();
    for (const stdout of ['way-out/new', 'link', 'absent/new']) {
      const { record } = await measure(
        scripted({
          setUp: [line('links', `ln -s ${outside} way-out; ln -s ${outside}/new link`)],
          steps: [line('work', 'echo leaked', { stdout })],
        }),
      );
      expect(record.failure?.code).toBe('step-failed');
      expect(existsSync(join(outside, 'new'))).toBe(false);
    }
  });

  it('scrubs what its steps said, in messages and logs', async () => {
    const literals = [{ text: 'bench-owner', placeholder: '[user]' }];
    const workload = scripted({ steps: [line('work', 'echo bench-owner >&2; exit 1')] });
    const { record, log } = await measure(workload, { literals });
    expect(JSON.stringify(record)).not.toContain('bench-owner');
    expect(log(record.steps?.[0]?.logs?.stderr.path)).toBe('[user]\n');
  });

  it('names the metric that no step gave', async () => {
    const metrics = [score({ kind: 'stdout', step: 'work' })] as const;
    const { record } = await measure(
      scripted({ steps: [line('work', 'echo no luck')] }, { metrics }),
    );
    expect(record.failure).toMatchObject({
      code: 'metric-not-found',
      message: expect.stringMatching(
        /metric score: .*, in standard output of step work; standard output of step work ended: "no luck"/,
      ),
    });
  });
});

describe('a scripted run ended at once', () => {
  it('ends the step under way and starts no other, tear-down included', async () => {
    const stop = new AbortController();
    const begun = join(temporaryFolder(), 'begun');
    const workload = scripted({
      steps: [line('long', `touch ${begun}; sleep 60`), line('next', ':')],
      tearDown: [line('clean', ':')],
    });
    const pending = measure(workload, { abort: stop.signal });
    await until(() => existsSync(begun), 'the step had begun');
    stop.abort();
    const { record } = await pending;
    expect(record.failure).toMatchObject({
      code: 'stopped-by-operator',
      message: expect.stringContaining('step long: ended at once on request'),
    });
    expect(record.exit).toEqual({ kind: 'signal', signal: 'SIGTERM' });
    expect(record.steps?.map(({ id }) => id)).toEqual(['long']);
  });

  it('names the heat where that ended it', async () => {
    const heat = new AbortController();
    const begun = join(temporaryFolder(), 'begun');
    const workload = scripted({
      steps: [line('long', `touch ${begun}; sleep 60`), line('next', ':')],
    });
    const pending = measure(workload, { abort: heat.signal });
    await until(() => existsSync(begun), 'the step had begun');
    heat.abort({ cause: 'temperature-limit', message: 'the processor reached 95 °C' });
    const { record } = await pending;
    expect(record.failure).toMatchObject({
      code: 'temperature-limit',
      message: expect.stringContaining('step long: the processor reached 95 °C'),
    });
    expect(record.stopped?.cause).toBe('temperature-limit');
    expect(record.steps?.map(({ id, failure }) => [id, failure?.code])).toEqual([
      ['long', 'temperature-limit'],
    ]);
  });

  it('starts nothing when the stop came before', async () => {
    const workload = scripted({ setUp: [line('first', ':')], tearDown: [line('clean', ':')] });
    const { record } = await measure(workload, { abort: AbortSignal.abort() });
    expect(record.failure).toEqual({
      code: 'stopped-by-operator',
      message: 'ended at once on request, before set-up step first',
    });
    expect(record).toMatchObject({ steps: [], exit: null, accounting: null });
  });
});
