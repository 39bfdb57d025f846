import { execFileSync } from 'node:child_process';
import { openSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import koffi from 'koffi';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Accounting } from '../../../../src/model/meter.ts';
import { measuredEnvironment } from '../../../../src/runner/meter/measured-environment.ts';
import { needs } from '../../../setup/needs.ts';
import { fixture, openTestMeter, path, type TestMeter } from './harness.ts';

const python = needs.program('python3');
const setarch = needs.program('setarch');

interface Reference {
  readonly code: number | null;
  readonly signal: number | null;
  readonly cpuSeconds: number;
  readonly peakBytes: number;
}

describe.skipIf(process.platform !== 'linux')('the kernel meter', () => {
  let test: TestMeter;
  beforeAll(async () => {
    test = await openTestMeter('kernel');
  });
  afterAll(() => test.close());

  /** What python3's os.wait4 says of the same command. */
  function refer(argv: readonly string[]): Reference {
    const env = measuredEnvironment({ path, scratch: test.folder, extra: {} });
    const text = execFileSync('python3', [fixture('account.py'), ...argv], {
      env,
      cwd: test.folder,
    });
    return JSON.parse(text.toString()) as Reference;
  }

  describe.skipIf(python.missing)('agrees with an independent reference', () => {
    // Other work on the machine only ever adds CPU time, so the least of several runs is compared, and more runs
    // are taken while it has not settled.
    it.each([
      ['user time', ['python3', '-c', 'sum(i * i for i in range(3_000_000))']],
      ['system time', ['dd', 'if=/dev/zero', 'of=/dev/null', 'bs=64k', 'count=60000']],
      [
        'the time of children waited for',
        [
          'sh',
          '-c',
          'dd if=/dev/zero of=/dev/null bs=64k count=30000; python3 -c "sum(range(3000000))"',
        ],
      ],
      ['hardly any time', ['true']],
    ] as const)('on %s', async (_, argv) => {
      let [ours, theirs] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
      // One lucky run may keep the least values apart for ever; the middle difference of neighbours does not care.
      const differences: number[] = [];
      const agrees = (): boolean =>
        isNear(ours, theirs) || isNear(theirs + middle(differences), theirs);
      for (let pair = 0; pair < 3 || (pair < 40 && !agrees()); pair++) {
        const mine = cpuSeconds((await test.run([...argv])).accounting);
        const other = refer(argv).cpuSeconds;
        differences.push(mine - other);
        ours = Math.min(ours, mine);
        theirs = Math.min(theirs, other);
      }
      const apart = Math.min(Math.abs(ours - theirs), Math.abs(middle(differences)));
      expect(apart).toBeLessThanOrEqual(Math.max(0.02 * theirs, 0.01));
    });

    // With addresses at random, the pages that a program touches differ by some 100 KiB from run to run.
    it.skipIf(setarch.missing).each(['1M', '4M', '50M', '200M'])(
      'on the peak memory of a program that fills a buffer of %s',
      async (size) => {
        const argv = [
          'setarch',
          '-R',
          'dd',
          'if=/dev/zero',
          'of=/dev/null',
          `bs=${size}`,
          'count=1',
        ] as const;
        const { peakMemory } = (await test.run([...argv])).accounting;
        const { peakBytes } = refer(argv);
        expect(peakMemory?.kind).toBe('exact');
        expect(Math.abs(peakMemory!.bytes / peakBytes - 1)).toBeLessThanOrEqual(0.02);
      },
    );

    it('on the peak memory of the smallest program at hand', async () => {
      const ours = [];
      const theirs = [];
      for (let run = 0; run < 9; run++) {
        const { peakMemory } = (await test.run(['true'])).accounting;
        if (peakMemory?.kind === 'exact') ours.push(peakMemory.bytes);
        theirs.push(refer(['true']).peakBytes);
      }
      expect(Math.min(...ours)).toBeLessThanOrEqual(Math.max(...theirs));
      expect(Math.max(...ours)).toBeGreaterThanOrEqual(Math.min(...theirs));
      expect(Math.max(...ours)).toBeLessThan(3e6);
    });

    it('on exit codes and signals', async () => {
      expect((await test.run(['sh', '-c', 'exit 42'])).exit).toEqual({ kind: 'code', code: 42 });
      expect(refer(['sh', '-c', 'exit 42'])).toMatchObject({ code: 42, signal: null });
      const { exit } = await test.run(['sh', '-c', 'kill -USR1 $$']);
      expect(exit).toEqual({ kind: 'signal', signal: 'SIGUSR1' });
      expect(refer(['sh', '-c', 'kill -USR1 $$'])).toMatchObject({ code: null, signal: 10 });
    });
  });

  it.skipIf(process.arch !== 'x64')(
    'says of a program smaller than what starts it only that it stayed below',
    async () => {
      const file = join(test.folder, 'tiny');
      writeFileSync(file, tinyProgram(), { mode: 0o755 });
      const { exit, accounting } = await test.run([file]);
      expect(exit).toEqual({ kind: 'code', code: 0 });
      expect(accounting.peakMemory?.kind).toBe('below');
      expect(accounting.peakMemory!.bytes).toBeLessThan(4e6);
    },
  );

  it('says only "below" as well where it has to start a program without a shell', async () => {
    const environment = { PATH: path, 'not.a.name': '1' };
    const { peakMemory } = (await test.run(['true'], { environment })).accounting;
    expect(peakMemory?.kind).toBe('below');
    expect(peakMemory!.bytes).toBeGreaterThan(1e7);
  });

  it('reports faults and switches', async () => {
    const { accounting } = await test.run([
      'dd',
      'if=/dev/zero',
      'of=/dev/null',
      'bs=40M',
      'count=1',
    ]);
    expect(accounting.minorFaults).toBeGreaterThan(1000);
    const { accounting: sleepy } = await test.run([
      'sh',
      '-c',
      'sleep 0.01; sleep 0.01; sleep 0.01',
    ]);
    expect(sleepy.voluntarySwitches).toBeGreaterThanOrEqual(6);
  });

  it.each([
    ['through the shell', {}],
    ['without it', { 'not.a.name': '1' }],
  ])('binds a program to CPUs from its start, %s', async (_, extra) => {
    const cpu = availableParallelism() - 1;
    const environment = { PATH: path, ...extra };
    await test.run(['grep', 'Cpus_allowed_list', '/proc/self/status'], {
      affinity: [cpu],
      environment,
    });
    expect(test.stdout().split(/\s+/)[1]).toBe(String(cpu));
    await test.run(['grep', 'Cpus_allowed_list', '/proc/self/status'], { environment });
    expect(test.stdout()).toBe(
      `${/^Cpus_allowed_list.*\n/m.exec(readFileSync('/proc/self/status', 'utf8'))?.[0]}`,
    );
  });

  it('refuses CPUs that are not there', async () => {
    for (const affinity of [[4000], [0, 4000]]) {
      const outcome = await test.measure(['true'], { affinity });
      expect(outcome).toMatchObject({ kind: 'not-started', reason: 'system-error' });
      expect(outcome.kind === 'not-started' && outcome.message).toContain('4000');
    }
  });

  it('sets the priority', async () => {
    await test.run(['nice'], { priority: 7 });
    expect(test.stdout()).toBe('7\n');
    await test.run(['nice'], { priority: null });
    expect(test.stdout()).toBe('0\n');
  });

  it('lets a program inherit no descriptor, not even one that is open for all children', async () => {
    const leaky = koffi.load(null).func('int dup(int)')(openSync('/dev/null', 'r')) as number;
    const list = [process.execPath, fixture('report-self.mjs')] as const;
    const heldBy = (report: string) =>
      (JSON.parse(report).descriptors as [number, string][]).map(([number]) => number);
    expect(heldBy(execFileSync(list[0], [list[1]]).toString())).toContain(leaky);
    for (const environment of [{ PATH: path }, { 'not.a.name': '1' }]) {
      await test.run([...list], { environment });
      expect(heldBy(test.stdout())).not.toContain(leaky);
    }
  });

  it('gives signals their defaults, whatever Node does with them', async () => {
    await test.run(['grep', '-E', 'Sig(Blk|Ign)', '/proc/self/status']);
    expect(test.stdout()).toBe('SigBlk:\t0000000000000000\nSigIgn:\t0000000000000000\n');
  });

  it('leaves no descriptor open, after good runs and refusals', async () => {
    const count = () => readdirSync('/proc/self/fd').length;
    await test.run(['true']);
    const before = count();
    for (let run = 0; run < 5; run++) {
      await test.run(['true']);
      await test.measure(['/no/such/program']);
      await test.measure(['true'], { affinity: [4000] });
      await test.measure([fixture('no-interpreter')]);
      await test.run(['/bin/true'], { environment: { 'not.a.name': '1' } });
    }
    expect(count()).toBe(before);
  });
});

/** A whole program of nine bytes of code, `exit(0)`, in the smallest static file that elf(5) allows. */
function tinyProgram(): Buffer {
  const code = Buffer.from('b83c00000031ff0f05', 'hex');
  const file = Buffer.alloc(120);
  const base = 0x400000n;
  Buffer.from('7f454c46020101', 'hex').copy(file);
  file.writeUInt16LE(2, 16); // executable
  file.writeUInt16LE(62, 18); // x86-64
  file.writeUInt32LE(1, 20);
  file.writeBigUInt64LE(base + 120n, 24); // entry
  file.writeBigUInt64LE(64n, 32); // program header
  file.writeUInt16LE(64, 52);
  file.writeUInt16LE(56, 54);
  file.writeUInt16LE(1, 56);
  file.writeUInt32LE(1, 64); // load
  file.writeUInt32LE(5, 68); // read, execute
  file.writeBigUInt64LE(base, 80);
  file.writeBigUInt64LE(base, 88);
  file.writeBigUInt64LE(BigInt(120 + code.length), 96);
  file.writeBigUInt64LE(BigInt(120 + code.length), 104);
  file.writeBigUInt64LE(0x1000n, 112);
  return Buffer.concat([file, code]);
}

function cpuSeconds({ userSeconds, systemSeconds }: Accounting): number {
  return userSeconds! + systemSeconds!;
}

function isNear(ours: number, theirs: number): boolean {
  return Math.abs(ours - theirs) <= Math.max(0.01 * theirs, 0.005);
}

function middle(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}
