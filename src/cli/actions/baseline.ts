import { setBaseline } from '../../api/gate/set-baseline.ts';
import type { Baseline } from '../../model/baselines.ts';
import { renderTable } from '../../report/text-table.ts';
import { readBaselines } from '../../results/baseline-file.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

interface SetFlags {
  readonly results: string;
  readonly baselines: string;
  readonly replace?: true;
}

export async function setNamed(
  name: string,
  sittings: string,
  { results, baselines, replace }: SetFlags,
): Promise<ExitCode> {
  const now = new Date();
  const set = await setBaseline(name, sittings, {
    file: baselines,
    results,
    replace: replace === true,
    now,
  });
  if (!set.ok) {
    printProblems([set.error]);
    return exitCodes.badInput;
  }
  const { baseline, before, notes } = set.value;
  for (const note of notes) printError(note);
  if (before !== null) printError(`${name} pointed at ${idsOf(before)} before`);
  print(`${name}: ${idsOf(baseline)}`);
  return exitCodes.fine;
}

export async function listNamed({
  baselines,
  json,
}: {
  readonly baselines: string;
  readonly json?: true;
}): Promise<ExitCode> {
  const read = await readBaselines(baselines);
  if (!read.ok) {
    printProblems([read.error]);
    return exitCodes.badInput;
  }
  if (json) {
    printJson(read.value);
    return exitCodes.fine;
  }
  const rows = Object.entries(read.value.baselines).map(
    ([name, { rig, suite, sittings, setAt }]) => [
      name,
      rig,
      suite.id,
      String(sittings.length),
      setAt.slice(0, 10),
    ],
  );
  const columns = ['name', 'rig', 'suite', 'sittings', 'set'].map((title) => ({
    title,
    align: 'left' as const,
  }));
  print(rows.length === 0 ? `no baselines in ${baselines}` : renderTable(columns, rows));
  return exitCodes.fine;
}

function idsOf({ sittings }: Baseline): string {
  return sittings.map(({ id }) => id).join(', ');
}
