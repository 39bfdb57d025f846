import type { DuckDBConnection, DuckDBResultReader } from '@duckdb/node-api';
import { err, ok, type Result } from '../../lib/result.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { type IndexPlace, indexPaths, isWorthIndexing } from '../../results/index/index-place.ts';
import { listSittingNames } from '../../results/sitting-names.ts';
import { fillDatabase } from './fill-database.ts';
import { type DuckDb, loadDuckDb } from './load-duckdb.ts';
import { lockDown, openDatabase } from './open-database.ts';

export interface QueryOptions {
  /** Folder of the sittings. Default `results`. */
  readonly results?: string;
  /** Where the tables are kept for later queries. Default null: made anew in memory each time. */
  readonly index?: IndexPlace | null;
  /** Of the query itself, not of reading sittings. Default 60. */
  readonly timeSeconds?: number;
  /** Default 1024. */
  readonly memoryMebibytes?: number;
  /** Rows beyond it are left out. Default 100,000. */
  readonly mostRows?: number;
}

export interface QueryOutcome {
  readonly columns: readonly string[];
  /** Whole numbers beyond 2^53, decimals and times are text; lists and structures as in JSON. */
  readonly rows: readonly (readonly unknown[])[];
  readonly isCut: boolean;
  /** Some figure in the results folder is made up, for a demonstration. */
  readonly hasInvented: boolean;
  /** Folders that look like sittings but cannot be read. */
  readonly problems: readonly Problem[];
}

/**
 * Answers one SQL statement that reads, over all sittings of a folder: tables `sittings`, `runs` and `figures` (README.md, "Asking by SQL"). It
 * can reach nothing else. Codes: `option-invalid` (no DuckDB, or what DuckDB says of the statement), those of listing and of exclusions.
 */
export async function queryRuns(
  sql: string,
  options: QueryOptions = {},
): Promise<Result<QueryOutcome, Problem>> {
  const { results = 'results', index = null, memoryMebibytes = 1_024 } = options;
  const names = await listSittingNames(results);
  if (!names.ok) return names;
  const loaded = await loadDuckDb();
  if (!loaded.ok) return loaded;
  const duckDb = loaded.value;
  const place = index !== null && isWorthIndexing(names.value.length, index) ? index : null;
  const path = place === null ? null : (indexPaths(place, results)?.runs ?? null);
  let open = await openDatabase(duckDb, path, place?.tool ?? '');
  try {
    const filled = await fillDatabase(open.connection, duckDb, results);
    if (!filled.ok) return filled;
    open = await lockDown(duckDb, open, memoryMebibytes);
    const asked = await ask(open.connection, duckDb, sql, options);
    if (!asked.ok) return asked;
    const invented = await open.connection.runAndReadAll(
      'select 1 from sittings where invented limit 1',
    );
    return ok({
      ...asked.value,
      hasInvented: invented.currentRowCount > 0,
      problems: filled.value,
    });
  } finally {
    open.connection.closeSync();
    open.instance.closeSync();
  }
}

type Answer = Pick<QueryOutcome, 'columns' | 'rows' | 'isCut'>;

async function ask(
  connection: DuckDBConnection,
  duckDb: DuckDb,
  sql: string,
  { timeSeconds = 60, mostRows = 100_000 }: QueryOptions,
): Promise<Result<Answer, Problem>> {
  let isLate = false;
  const timer = setTimeout(() => {
    isLate = true;
    connection.interrupt();
  }, timeSeconds * 1000);
  try {
    const fault = await statementFault(connection, duckDb, sql);
    if (fault !== null) return err(refused(fault));
    const reader = await connection.streamAndReadUntil(sql, mostRows + 1);
    const rows = plainRows(reader);
    return ok({
      columns: reader.deduplicatedColumnNames(),
      rows: rows.slice(0, mostRows),
      isCut: rows.length > mostRows,
    });
  } catch (error) {
    const said = (error as Error).message.trim();
    return err(
      refused(isLate ? `stopped after ${timeSeconds} s: ask for less, or give it longer` : said),
    );
  } finally {
    clearTimeout(timer);
  }
}

/** Why a statement is not asked: only one that reads is. */
async function statementFault(
  connection: DuckDBConnection,
  { StatementType }: DuckDb,
  sql: string,
): Promise<string | null> {
  const statements = await connection.extractStatements(sql);
  if (statements.count !== 1) return `one statement is needed, got ${statements.count}`;
  const prepared = await statements.prepare(0);
  if (prepared.parameterCount > 0) return 'parameters such as ? and $1 have no values here';
  const { statementType } = prepared;
  if (statementType === StatementType.SELECT || statementType === StatementType.EXPLAIN)
    return null;
  return `a query only reads: begin it with SELECT, FROM or WITH, not ${StatementType[statementType]}`;
}

const wholeTypes = /^(?:U?BIGINT|U?HUGEINT)$/;

function plainRows(reader: DuckDBResultReader): readonly (readonly unknown[])[] {
  const types = reader.columnTypes().map((type) => wholeTypes.test(type.toString()));
  return reader.getRowsJson().map((row) =>
    row.map((value, at) => {
      const isWhole = types[at] === true && typeof value === 'string';
      return isWhole && Number.isSafeInteger(Number(value)) ? Number(value) : value;
    }),
  );
}

function refused(message: string): Problem {
  return plainProblem('option-invalid', message);
}
