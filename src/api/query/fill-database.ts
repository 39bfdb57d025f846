import { join } from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import { ok, type Result } from '../../lib/result.ts';
import { exclusionsInForce } from '../../model/excluded-runs.ts';
import type { Problem } from '../../model/problem.ts';
import {
  type Identity,
  isSameIdentity,
  isSettled,
  readIdentity,
} from '../../results/index/identity.ts';
import { type Cell, type QueryTable, queryRows, queryTables } from '../../results/query-rows.ts';
import { readExclusions } from '../../results/read-exclusions.ts';
import { readSittingUnfrozen } from '../../results/read-sitting.ts';
import { listSittingNames } from '../../results/sitting-names.ts';
import type { DuckDb } from './load-duckdb.ts';

const tableNames = Object.keys(queryTables) as QueryTable[];

/** Rows that DuckDB takes at once. */
const chunkRows = 2_048;

/**
 * Brings the tables up to date with a results folder: sealed folders that are as they were stay, all others are read. In one
 * transaction: whoever is ended in between leaves what was there. Returned are the folders that cannot be read.
 */
export async function fillDatabase(
  connection: DuckDBConnection,
  duckDb: DuckDb,
  results: string,
): Promise<Result<readonly Problem[], Problem>> {
  const names = await listSittingNames(results);
  if (!names.ok) return names;
  const exclusions = await readExclusions(results);
  if (!exclusions.ok) return exclusions;
  await makeTables(connection);
  await connection.run('begin transaction');
  const known = await readKnown(connection);
  const fresh = names.value.filter((name) => {
    const identity = known.get(name) ?? null;
    const now = identity === null ? null : readIdentity(join(results, name));
    return identity === null || now === null || !isSameIdentity(now, identity);
  });
  const present = new Set(names.value);
  await forget(connection, [...fresh, ...[...known.keys()].filter((name) => !present.has(name))]);
  const problems = await appendSittings(new Tables(connection, duckDb), results, fresh);
  await connection.run('delete from kept.exclusions');
  const lines = exclusions.value.lines;
  const excluded = [...new Set(lines.map(({ sitting }) => sitting))].flatMap((sitting) =>
    exclusionsInForce(sitting, lines).map(({ plan, attempt }) => [sitting, plan, attempt] as const),
  );
  for (const row of excluded)
    await connection.run('insert into kept.exclusions values ($1, $2, $3)', [...row]);
  await connection.run('commit');
  return ok(problems);
}

async function appendSittings(
  tables: Tables,
  results: string,
  names: readonly string[],
): Promise<readonly Problem[]> {
  const problems: Problem[] = [];
  for (const name of names) {
    const folder = join(results, name);
    const atMs = Date.now();
    const before = readIdentity(folder);
    const read = await readSittingUnfrozen(folder);
    if (!read.ok) {
      problems.push(read.error);
      continue;
    }
    const after = readIdentity(folder);
    const isKept =
      before !== null && after !== null && isSameIdentity(before, after) && isSettled(before, atMs);
    await tables.add('known', [[name, isKept ? JSON.stringify(before) : null]]);
    const rows = queryRows(read.value);
    for (const table of tableNames)
      await tables.add(
        table,
        rows[table].map((row) => [name, ...row]),
      );
  }
  await tables.flush();
  return problems;
}

async function makeTables(connection: DuckDBConnection): Promise<void> {
  await connection.run('create schema if not exists kept');
  await connection.run('create table if not exists kept.known (folder VARCHAR, identity VARCHAR)');
  await connection.run(
    'create table if not exists kept.exclusions (sitting VARCHAR, plan INTEGER, attempt INTEGER)',
  );
  for (const table of tableNames) {
    const columns = Object.entries(queryTables[table]).map(([name, type]) => `${name} ${type}`);
    await connection.run(
      `create table if not exists kept.${table} (folder VARCHAR, ${columns.join(', ')})`,
    );
    await connection.run(viewOf(table));
  }
}

/** Without what is ours, with times as times, and of runs and figures whether the operator excluded them. */
function viewOf(table: QueryTable): string {
  const columns = Object.keys(queryTables[table]).map((name) =>
    name.endsWith('_at') ? `t.${name}::TIMESTAMP as ${name}` : `t.${name}`,
  );
  const from = `from kept.${table} t`;
  if (table === 'sittings')
    return `create or replace view sittings as select ${columns.join(', ')}, t.folder ${from}`;
  return `create or replace view ${table} as select ${columns.join(', ')}, e.sitting is not null as excluded ${from} left join kept.exclusions e on e.sitting = t.sitting and e.plan = t.plan and e.attempt = t.attempt`;
}

async function readKnown(
  connection: DuckDBConnection,
): Promise<ReadonlyMap<string, Identity | null>> {
  const reader = await connection.runAndReadAll('select folder, identity from kept.known');
  return new Map(
    reader
      .getRows()
      .map(([folder, identity]) => [
        String(folder),
        typeof identity === 'string' ? (JSON.parse(identity) as number[]) : null,
      ]),
  );
}

async function forget(connection: DuckDBConnection, names: readonly string[]): Promise<void> {
  if (names.length === 0) return;
  const list = JSON.stringify(names);
  for (const table of ['known', ...tableNames]) {
    await connection.run(
      `delete from kept.${table} where folder in (select unnest(from_json($1::JSON, '["VARCHAR"]')))`,
      [list],
    );
  }
}

/** Rows on their way into the tables, many at once. */
class Tables {
  readonly #connection: DuckDBConnection;
  readonly #duckDb: DuckDb;
  readonly #waiting = new Map<string, (readonly Cell[])[]>();

  constructor(connection: DuckDBConnection, duckDb: DuckDb) {
    this.#connection = connection;
    this.#duckDb = duckDb;
  }

  async add(table: string, rows: readonly (readonly Cell[])[]): Promise<void> {
    const waiting = this.#waiting.get(table) ?? [];
    this.#waiting.set(table, waiting);
    waiting.push(...rows);
    if (waiting.length >= 8 * chunkRows) await this.#write(table, waiting.splice(0));
  }

  async flush(): Promise<void> {
    for (const [table, rows] of this.#waiting) await this.#write(table, rows.splice(0));
  }

  async #write(table: string, rows: readonly (readonly Cell[])[]): Promise<void> {
    const { DuckDBDataChunk, VARCHAR, DOUBLE, INTEGER, BOOLEAN } = this.#duckDb;
    const own =
      table === 'known' ? (['VARCHAR'] as const) : Object.values(queryTables[table as QueryTable]);
    const types = ['VARCHAR' as const, ...own].map(
      (type) => ({ VARCHAR, DOUBLE, INTEGER, BOOLEAN })[type],
    );
    const appender = await this.#connection.createAppender(table, 'kept');
    for (let from = 0; from < rows.length; from += chunkRows) {
      const chunk = DuckDBDataChunk.create(types);
      chunk.setRows(rows.slice(from, from + chunkRows));
      appender.appendDataChunk(chunk);
    }
    appender.closeSync();
  }
}
