import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/lib/random.ts';
import { type Finished, runCli, startCli } from '../setup/cli.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import {
  isLong,
  type JournalLine,
  journalLines,
  sittingFolders,
  writeFastSuite,
} from './fast-suite.ts';

const kills = isLong ? 200 : 4;
// Longer than an agent takes from its start to its last run.
const longestMilliseconds = 2500;

/** Runs that the screen said were recorded, as positions of the plan. */
function acknowledged({ stdout }: Finished): readonly number[] {
  return [...stdout.matchAll(/^run (\d+) of \d+: \w+, \S+ \d+: wall/gm)].map(
    ([, number]) => Number(number) - 1,
  );
}

async function killedAfter(args: readonly string[], cwd: string, delay: number): Promise<Finished> {
  const { child, finished } = startCli(args, cwd);
  const timer = setTimeout(() => child.kill('SIGKILL'), delay);
  const end = await finished;
  clearTimeout(timer);
  return end;
}

describe('an agent killed at random instants', () => {
  it(
    'loses no run, doubles none, and ends in a valid seal',
    async () => {
      const random = seededRandom(20_260_131);
      const cwd = temporaryFolder();
      const results = join(cwd, 'results');
      const suite = writeFastSuite(cwd, { repeats: 12 });
      let killed = 0;
      let sittings = 0;
      while (killed < kills) {
        const before = new Set(sittingFolders(results));
        const told = new Set<number>();
        let folder: string | undefined;
        let end: Finished;
        do {
          const args = folder === undefined ? ['run', suite] : ['continue', folder];
          const delay = killed < kills ? random.next() % longestMilliseconds : 2 ** 30;
          end = await killedAfter(args, cwd, delay);
          for (const run of acknowledged(end)) told.add(run);
          if (end.code === null) killed += 1;
          folder ??= sittingFolders(results).find((found) => !before.has(found));
        } while (end.code === null);
        expect(end).toMatchObject({ code: expect.any(Number), stderr: '' });
        sittings += 1;
        checkJournal(folder ?? '', told);
        expect(await runCli(['verify', folder ?? ''], cwd)).toMatchObject({ code: 0 });
      }
      expect(sittings).toBeGreaterThan(0);
    },
    isLong ? 3_600_000 : 180_000,
  );
});

function checkJournal(folder: string, told: ReadonlySet<number>): void {
  const lines = journalLines(folder);
  const attempts = new Map<number, JournalLine[]>();
  for (const line of lines) attempts.set(line.plan, [...(attempts.get(line.plan) ?? []), line]);
  expect(attempts.size).toBe(39);
  for (const [plan, tries] of attempts) {
    expect(tries.map(({ attempt }) => attempt)).toEqual(tries.map((_, at) => at + 1));
    expect(tries.at(-1), `planned run ${plan}`).toMatchObject({ outcome: 'ok' });
    for (const { failure } of tries.slice(0, -1)) expect(failure?.code).toBe('lost');
  }
  for (const plan of told) expect(attempts.has(plan)).toBe(true);
}
