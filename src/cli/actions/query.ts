import { queryRuns } from '../../api/query/query-runs.ts';
import { renderQueryCsv, renderQueryTable } from '../../report/query-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { indexPlace } from '../index-place.ts';
import { print, printError, printExactly, printJson, printProblems } from '../print.ts';

interface QueryFlags {
  readonly results: string;
  readonly time: number;
  readonly memory: number;
  readonly csv?: true;
  readonly json?: true;
}

/** Status 1 where a folder could not be read: the answer is about the others. */
export async function query(sql: string, flags: QueryFlags): Promise<ExitCode> {
  const asked = await queryRuns(sql, {
    results: flags.results,
    index: indexPlace(),
    timeSeconds: flags.time,
    memoryMebibytes: flags.memory,
  });
  if (!asked.ok) {
    printProblems([asked.error]);
    return exitCodes.badInput;
  }
  const { columns, rows, isCut, hasInvented, problems } = asked.value;
  if (flags.json)
    printJson(rows.map((row) => Object.fromEntries(columns.map((name, at) => [name, row[at]]))));
  else if (flags.csv) printExactly(renderQueryCsv(columns, rows));
  else print(renderQueryTable(columns, rows));
  if (hasInvented)
    printError('invented figures are among these sittings: their rows have invented = true');
  if (isCut) printError(`only the first ${rows.length} rows: ask for less, or sum them up`);
  printProblems(problems);
  return problems.length === 0 ? exitCodes.fine : exitCodes.failed;
}
