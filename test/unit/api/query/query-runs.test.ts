import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadDuckDb } from '../../../../src/api/query/load-duckdb.ts';
import { queryRuns } from '../../../../src/api/query/query-runs.ts';
import { appendExclusion } from '../../../../src/results/append-exclusion.ts';
import { queryTables } from '../../../../src/results/query-rows.ts';
import { readExclusions } from '../../../../src/results/read-exclusions.ts';
import { eagerIndex, storeSittings } from '../../../setup/results-folder.ts';
import { sampleExclusion } from '../../../setup/samples.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';
import { unwrap } from '../../../setup/unwrap.ts';

const root = fileURLToPath(new URL('../../../..', import.meta.url));
const demo = join(root, 'results', 'harbour-lane');
const readme = readFileSync(join(root, 'README.md'), 'utf8').split('## Asking by SQL')[1] ?? '';

async function ask(sql: string, results: string = demo): Promise<readonly (readonly unknown[])[]> {
  return unwrap(await queryRuns(sql, { results })).rows;
}

describe('a query over all runs', () => {
  it('answers every example of the README', async () => {
    const examples = [...readme.matchAll(/^steadyrig query "(select .*?)"/gm)].map(
      ([, sql]) => sql,
    );
    expect(examples.length).toBeGreaterThan(3);
    for (const sql of examples)
      expect((await queryRuns(sql ?? '', { results: demo })).ok).toBe(true);
  });

  it('has the tables and columns that the README names', async () => {
    for (const [table, columns] of Object.entries(queryTables)) {
      const { columns: found } = unwrap(
        await queryRuns(`from ${table} limit 0`, { results: demo }),
      );
      expect(found).toEqual([
        ...Object.keys(columns),
        table === 'sittings' ? 'folder' : 'excluded',
      ]);
      const line = readme.split('\n').find((text) => text.startsWith(`| \`${table}\` |`)) ?? '';
      for (const column of found) expect(line).toContain(`\`${column}\``);
    }
  });

  it('counts and averages what the sittings hold, and marks what is excluded and invented', async () => {
    const results = join(temporaryFolder(), 'results');
    const [name = ''] = await storeSittings(results, 2);
    expect(await ask('select count(*), sum(stands::int) from runs', results)).toEqual([[6, 6]]);
    expect(
      await ask('select rig, avg(value) from figures group by rig order by rig', results),
    ).toEqual([
      ['bench-a', 2 + 1 / 8 + 3 / 128],
      ['bench-b', 2 + 2 / 8 + 3 / 128],
    ]);
    const none = unwrap(await readExclusions(results));
    await appendExclusion(none, sampleExclusion({ sitting: name, plan: 1 }));
    expect(await ask('select plan from figures where excluded', results)).toEqual([[1]]);
    expect(unwrap(await queryRuns('select 1', { results })).hasInvented).toBe(false);
    expect(unwrap(await queryRuns('select 1', { results: demo })).hasInvented).toBe(true);
  });

  it('gives the same from tables that earlier queries left, whatever happened to the folder and to them', async () => {
    const folder = temporaryFolder();
    const results = join(folder, 'results');
    const names = await storeSittings(results, 4);
    const index = eagerIndex(join(folder, 'index'));
    const sql = 'from runs order by sitting, plan';
    const both = async (): Promise<void> => {
      const kept = unwrap(await queryRuns(sql, { results, index }));
      expect(kept).toEqual(unwrap(await queryRuns(sql, { results })));
    };
    await both();
    await both();
    rmSync(join(results, names[1] ?? ''), { recursive: true });
    await both();
    writeFileSync(join(results, names[2] ?? '', 'data', 'inventory.json'), '{');
    await both();
    const database = join(index.folder, readdirSync(index.folder)[0] ?? '', 'runs.duckdb');
    expect(existsSync(database)).toBe(true);
    writeFileSync(database, 'no database');
    await both();
  });

  it.each([
    "copy runs to '/tmp/steadyrig-query.csv'",
    "copy (select 1) to '/tmp/steadyrig-query.csv'",
    "explain analyze copy runs to '/tmp/steadyrig-query.csv'",
    "attach '/tmp/steadyrig-query.db'",
    "select * from read_csv('/etc/passwd')",
    "select * from read_text('/etc/hostname')",
    "select * from '/etc/passwd'",
    "select * from glob('/etc/*')",
    "select * from query('copy runs to ''/tmp/steadyrig-query.csv''')",
    'install httpfs',
    'load httpfs',
    'set enable_external_access = true',
    'reset enable_external_access',
    "pragma memory_limit='100GB'",
    'drop view runs',
    'delete from kept.runs',
    'insert into kept.known values (null, null)',
    'create table mine as select 1',
    'select 1; select 2',
    'select $1',
    'select',
    '',
  ])('refuses %s', async (sql) => {
    const asked = await queryRuns(sql, { results: demo });
    expect(asked.ok ? 'answered' : asked.error.code).toBe('option-invalid');
    expect(existsSync('/tmp/steadyrig-query.csv')).toBe(false);
    expect(existsSync('/tmp/steadyrig-query.db')).toBe(false);
  });

  it('ends a statement that takes too long, or too much memory', async () => {
    const slow = 'select count(*) from range(100000000000) a, range(1000) b';
    const late = await queryRuns(slow, { results: demo, timeSeconds: 0.3 });
    expect(late.ok ? '' : late.error.message).toContain('stopped after 0.3 s');
    const large = 'select list(a.range) from range(100000000) a';
    const big = await queryRuns(large, { results: demo, memoryMebibytes: 32 });
    expect(big.ok ? '' : big.error.message).toMatch(/memory/i);
  });

  it('says how to get DuckDB where it is not there', async () => {
    const loaded = await loadDuckDb(() => Promise.reject(new Error('Cannot find package')));
    expect(loaded.ok ? '' : loaded.error.message).toContain('npm install @duckdb/node-api');
  });
});
