import { importFigures } from '../../api/import-figures.ts';
import { renderIgnoredColumns, renderImport } from '../../report/exchange-notes.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

interface ImportFlags {
  readonly results: string;
  readonly json?: true;
}

export async function importFile(file: string, { results, json }: ImportFlags): Promise<ExitCode> {
  const imported = await importFigures(file, { results });
  if (!imported.ok) {
    printProblems(imported.error);
    return exitCodes.badInput;
  }
  const { sittings, figures, ignored } = imported.value;
  if (ignored.length > 0) printError(renderIgnoredColumns(ignored));
  if (json) {
    const rows = sittings.map(({ folder, sitting }) => ({
      id: sitting.id,
      folder,
      rig: sitting.rig,
      suite: sitting.suite.resolved.id,
      digest: sitting.suite.resolved.digest,
      imported: sitting.imported,
    }));
    printJson({ figures, ignored, sittings: rows });
  } else print(renderImport(figures, sittings));
  return exitCodes.fine;
}
