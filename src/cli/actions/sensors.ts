import { sensors as readSensors } from '../../api/sensors.ts';
import { renderSensorsPage } from '../../report/sensors-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printJson } from '../print.ts';

export async function sensors(flags: { readonly json?: true }): Promise<ExitCode> {
  const { table, sample } = await readSensors();
  if (flags.json) printJson({ table, sample });
  else print(renderSensorsPage(table, sample));
  return exitCodes.fine;
}
