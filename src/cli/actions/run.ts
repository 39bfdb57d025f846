import { findSuite } from '../../api/find-suite.ts';
import { openSuite } from '../../api/open-suite.ts';
import type { SittingOptions } from '../../api/options.ts';
import { runSitting } from '../../api/run-sitting.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { rigLabelFault } from '../../results/layout.ts';
import { type AcknowledgeFlags, acknowledge } from '../acknowledge.ts';
import { type ConductFlags, conduct } from '../conduct.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import {
  type AmbientFlags,
  type MeasuringFlags,
  readAmbient,
  readMeasuringFlags,
} from '../measuring-flags.ts';
import { printError, printProblems } from '../print.ts';

interface RunFlags extends ConductFlags, AcknowledgeFlags, MeasuringFlags, AmbientFlags {
  readonly rig: string;
  readonly profile?: string;
  readonly results: string;
  readonly seed?: number;
  readonly level: Readonly<Record<string, string>>;
  readonly assembly?: number;
  readonly notes?: string;
  readonly skipMissing?: true;
}

export async function run(given: string, flags: RunFlags): Promise<ExitCode> {
  const loaded = await openSuite(findSuite(given), flags.profile);
  if (!loaded.ok) {
    printProblems(loaded.error);
    return exitCodes.badInput;
  }
  const options = await readFlags(flags, new Date());
  if (!options.ok) {
    printError(options.error);
    return exitCodes.badInput;
  }
  const cautions = await acknowledge(flags, flags);
  if (cautions === null) return exitCodes.refused;
  const { id, profile } = loaded.value.suite;
  return conduct(flags, { rig: flags.rig, suite: id, profile }, (ports) =>
    runSitting(loaded.value, { ...options.value, cautions, ...ports }),
  );
}

async function readFlags(flags: RunFlags, now: Date): Promise<Result<SittingOptions, string>> {
  // Nobody is to be asked about cautions first.
  const fault = rigLabelFault(flags.rig);
  if (fault !== null) return err(fault);
  const ambient = readAmbient(flags);
  if (!ambient.ok) return ambient;
  const measuring = await readMeasuringFlags(flags, now);
  if (!measuring.ok) return measuring;
  return ok({
    ...measuring.value,
    rig: flags.rig,
    results: flags.results,
    levels: flags.level,
    assembly: flags.assembly ?? null,
    conditions: { ambientCelsius: ambient.value, notes: flags.notes ?? null },
    skipMissing: flags.skipMissing ?? false,
    ...(flags.seed === undefined ? {} : { seed: flags.seed }),
  });
}
