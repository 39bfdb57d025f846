import { mkdir, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { DuckDBConnection, DuckDBInstance } from '@duckdb/node-api';
import type { DuckDb } from './load-duckdb.ts';

export interface OpenDatabase {
  readonly instance: DuckDBInstance;
  readonly connection: DuckDBConnection;
  /** Null: in memory. */
  readonly path: string | null;
}

/** To be raised with every change of the tables. */
const revision = 'steadyrig/runs/1';

/**
 * The database that earlier queries left at a path, to be brought up to date. One that is damaged or of another version is made
 * anew; while another process has it, or where there is no path or no right to write, an empty one in memory.
 */
export async function openDatabase(
  { DuckDBInstance }: DuckDb,
  path: string | null,
  tool: string,
): Promise<OpenDatabase> {
  const version = `${revision} ${tool}`;
  if (path !== null) {
    const kept = (await tryOpen(DuckDBInstance, path, version)) ?? 'unusable';
    if (kept !== 'unusable' && kept !== 'busy') return kept;
    if (kept === 'unusable') {
      const isRemoved = await removeDatabase(path);
      const anew = isRemoved ? await tryOpen(DuckDBInstance, path, version) : null;
      if (anew !== null && anew !== 'busy') return anew;
    }
  }
  const instance = await DuckDBInstance.create(':memory:');
  return { instance, connection: await instance.connect(), path: null };
}

/** Null: damaged, or of another version. */
async function tryOpen(
  Instance: DuckDb['DuckDBInstance'],
  path: string,
  version: string,
): Promise<OpenDatabase | 'busy' | null> {
  let instance: DuckDBInstance | null = null;
  try {
    await mkdir(dirname(path), { recursive: true });
    instance = await Instance.create(path);
    const connection = await instance.connect();
    await connection.run('create table if not exists about (version VARCHAR)');
    const reader = await connection.runAndReadAll('select version from about');
    const [row] = reader.getRows();
    if (row === undefined) await connection.run('insert into about values ($1)', [version]);
    if (row === undefined || row[0] === version) return { instance, connection, path };
    connection.closeSync();
  } catch (error) {
    if (/could not set lock|conflicting lock/i.test((error as Error).message)) return 'busy';
  }
  instance?.closeSync();
  return null;
}

async function removeDatabase(path: string): Promise<boolean> {
  try {
    await rm(path, { force: true });
    await rm(`${path}.wal`, { force: true });
    return true;
  } catch {
    return false;
  }
}

/** The same database for reading only, where it has a file; nothing outside of it can be reached from here on. */
export async function lockDown(
  { DuckDBInstance }: DuckDb,
  open: OpenDatabase,
  memoryMebibytes: number,
): Promise<OpenDatabase> {
  let { instance, connection } = open;
  if (open.path !== null) {
    connection.closeSync();
    instance.closeSync();
    instance = await DuckDBInstance.create(open.path, { access_mode: 'READ_ONLY' });
    connection = await instance.connect();
  }
  for (const setting of [
    `memory_limit='${memoryMebibytes}MiB'`,
    "max_temp_directory_size='0B'",
    'autoinstall_known_extensions=false',
    'autoload_known_extensions=false',
    'allow_community_extensions=false',
    'enable_external_access=false',
    'lock_configuration=true',
  ])
    await connection.run(`set ${setting}`);
  return { ...open, instance, connection };
}
