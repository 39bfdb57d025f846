import { err, ok, type Result } from '../../lib/result.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';

export type DuckDb = typeof import('@duckdb/node-api');

/** An optional dependency of 70 MB, loaded when a query is asked. Code: `option-invalid`. */
export async function loadDuckDb(
  load: () => Promise<DuckDb> = () => import('@duckdb/node-api'),
): Promise<Result<DuckDb, Problem>> {
  try {
    return ok(await load());
  } catch (error) {
    const reason = (error as Error).message.split('\n', 1)[0];
    const message = `query needs DuckDB, which is not there (${reason}): install it beside steadyrig with npm install @duckdb/node-api; every other command works without it`;
    return err(plainProblem('option-invalid', message));
  }
}
