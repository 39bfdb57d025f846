import { findSuite } from '../../api/find-suite.ts';
import { openSuite } from '../../api/open-suite.ts';
import type { SittingOptions } from '../../api/options.ts';
import { runSitting } from '../../api/run-sitting.ts';
import type { Result } from '../../lib/result.ts';
import { rigLabelFault } from '../../results/layout.ts';
import { parseTemperature } from '../../suite/quantity.ts';
import { type AcknowledgeFlags, acknowledge } from '../acknowledge.ts';
import { cacheFolder } from '../cache-folder.ts';
import { type ConductFlags, conduct } from '../conduct.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { type AsFlags, otherUser } from '../other-user.ts';
import { type DeadlineFlags, parseDeadline } from '../parse-deadline.ts';
import { printError, printProblems } from '../print.ts';

interface RunFlags extends ConductFlags, AcknowledgeFlags, AsFlags, DeadlineFlags {
  readonly rig: string;
  readonly profile?: string;
  readonly results: string;
  readonly seed?: number;
  readonly level: Readonly<Record<string, string>>;
  readonly assembly?: number;
  readonly ambient?: string;
  readonly notes?: string;
  readonly scratch?: string;
  readonly cache?: string;
  readonly skipMissing?: true;
  readonly portableMeter?: true;
  readonly telemetry: boolean;
}

export async function run(given: string, flags: RunFlags): Promise<ExitCode> {
  const loaded = await openSuite(findSuite(given), flags.profile);
  if (!loaded.ok) {
    printProblems(loaded.error);
    return exitCodes.badInput;
  }
  const options = readFlags(flags, new Date());
  if (!options.ok) {
    printError(options.error);
    return exitCodes.badInput;
  }
  const user = await otherUser(flags);
  if (!user.ok) {
    printError(user.error);
    return exitCodes.badInput;
  }
  const cautions = await acknowledge(flags, flags);
  if (cautions === null) return exitCodes.refused;
  const { id, profile } = loaded.value.suite;
  return conduct(flags, { rig: flags.rig, suite: id, profile }, (ports) =>
    runSitting(loaded.value, { ...options.value, user: user.value, cautions, ...ports }),
  );
}

function readFlags(flags: RunFlags, now: Date): Result<SittingOptions, string> {
  const cache = cacheFolder(flags.cache);
  // Nobody is to be asked about cautions first.
  const fault = rigLabelFault(flags.rig);
  if (fault !== null) return { ok: false, error: fault };
  const ambient = flags.ambient === undefined ? null : parseTemperature(flags.ambient);
  if (ambient?.ok === false) return { ok: false, error: `option --ambient: ${ambient.error}` };
  const deadline = parseDeadline(flags, now);
  if (!deadline.ok) return deadline;
  return {
    ok: true,
    value: {
      rig: flags.rig,
      results: flags.results,
      levels: flags.level,
      assembly: flags.assembly ?? null,
      conditions: { ambientCelsius: ambient?.value ?? null, notes: flags.notes ?? null },
      portableMeter: flags.portableMeter ?? false,
      telemetry: flags.telemetry,
      deadline: deadline.value,
      skipMissing: flags.skipMissing ?? false,
      ...(cache === undefined ? {} : { cache }),
      ...(flags.seed === undefined ? {} : { seed: flags.seed }),
      ...(flags.scratch === undefined ? {} : { scratch: flags.scratch }),
    },
  };
}
