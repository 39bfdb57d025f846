import { cpSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { seededRandom } from '../../src/lib/random.ts';
import { expectRefused, runCli, startCli } from '../setup/cli.ts';
import { storeSittings, touch } from '../setup/results-folder.ts';

const cwd = mkdtempSync(join(tmpdir(), 'steadyrig-store-'));
const results = join(cwd, 'results');
const environment = { XDG_CACHE_HOME: join(cwd, 'cache') };
const index = join(cwd, 'cache', 'steadyrig', 'index');
let plain = '';

const store = (args: readonly string[], cache: Readonly<Record<string, string>> = environment) =>
  runCli([...args, '--results', results], cwd, cache);

beforeAll(async () => {
  await storeSittings(results, 28);
  for (const name of readdirSync(results))
    cpSync(join(results, name), join(results, name.replace('T2015', 'T2115')), { recursive: true });
  // Nothing can be kept of what was written within the last seconds.
  await vi.waitUntil(
    async () => {
      plain = (await store(['list'])).stdout;
      return existsSync(index);
    },
    { timeout: 20_000, interval: 500 },
  );
}, 60_000);

afterAll(() => rmSync(cwd, { recursive: true, force: true }));

describe('a results folder with an index', () => {
  it('is listed alike whenever an agent that writes the index or the tables is killed', async () => {
    const random = seededRandom(20_260_131);
    for (let kill = 0; kill < 8; kill += 1) {
      if (kill % 2 === 0) rmSync(index, { recursive: true, force: true });
      for (const name of readdirSync(results).slice(0, 3)) touch(join(results, name, 'bagit.txt'));
      const args = kill % 4 < 2 ? ['list'] : ['query', 'select count(*) as runs from runs'];
      const { child, finished } = startCli([...args, '--results', results], cwd, environment);
      const timer = setTimeout(() => child.kill('SIGKILL'), 100 + (random.next() % 700));
      await finished;
      clearTimeout(timer);
      expect(await store(['list'])).toEqual({ code: 0, stdout: plain, stderr: '' });
      const asked = await store(['query', 'select count(*) as runs from runs', '--json']);
      expect(JSON.parse(asked.stdout)).toEqual([{ runs: 168 }]);
    }
  }, 120_000);

  it('holds nothing of the index, and all of it fits its seals still', async () => {
    const names = readdirSync(results);
    expect(names).toHaveLength(56);
    const folders = names.map((name) => join(results, name));
    expect(await runCli(['verify', ...folders], cwd, environment)).toMatchObject({ code: 0 });
  });

  it('is listed where the cache cannot be written', async () => {
    const listed = await store(['list'], { XDG_CACHE_HOME: '/proc/nowhere' });
    expect(listed).toEqual({ code: 0, stdout: plain, stderr: '' });
  });
});

describe('query', () => {
  it('prints a table, CSV and JSON, and refuses what is no query with status 2', async () => {
    const sql = 'select rig, count(*) as runs from runs group by rig order by rig';
    expect((await store(['query', sql])).stdout).toBe(
      'rig      runs\n───────  ────\nbench-a    84\nbench-b    84\n2 rows\n',
    );
    expect((await store(['query', sql, '--csv'])).stdout).toBe(
      'rig,runs\r\nbench-a,84\r\nbench-b,84\r\n',
    );
    expect(JSON.parse((await store(['query', sql, '--json'])).stdout)).toEqual([
      { rig: 'bench-a', runs: 84 },
      { rig: 'bench-b', runs: 84 },
    ]);
    expectRefused(await store(['query', 'drop view runs']), 'a query only reads');
    for (const line of (await store(['query', 'from runs limit 3'])).stdout.split('\n'))
      expect(line.length).toBeLessThanOrEqual(80);
  });
});
