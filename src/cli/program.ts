import { readFileSync } from 'node:fs';
import { Command } from 'commander';
import { defineAgain } from './commands/again.ts';
import { defineBaseline } from './commands/baseline.ts';
import { defineCheck } from './commands/check.ts';
import { defineCompare } from './commands/compare.ts';
import { defineContinue } from './commands/continue.ts';
import { defineEffects } from './commands/effects.ts';
import { defineEnter } from './commands/enter.ts';
import { defineExclude } from './commands/exclude.ts';
import { defineExport } from './commands/export.ts';
import { defineGate } from './commands/gate.ts';
import { defineHistory } from './commands/history.ts';
import { defineImport } from './commands/import.ts';
import { defineInstallService } from './commands/install-service.ts';
import { defineInventory } from './commands/inventory.ts';
import { defineList } from './commands/list.ts';
import { defineNext } from './commands/next.ts';
import { definePlan } from './commands/plan.ts';
import { definePrecision } from './commands/precision.ts';
import { defineProgress } from './commands/progress.ts';
import { defineQuery } from './commands/query.ts';
import { defineReport } from './commands/report.ts';
import { defineRun } from './commands/run.ts';
import { defineSchema } from './commands/schema.ts';
import { defineSensors } from './commands/sensors.ts';
import { defineShow } from './commands/show.ts';
import { defineVerify } from './commands/verify.ts';
import { defineWatch } from './commands/watch.ts';
import { defineWorth } from './commands/worth.ts';
import type { Exit } from './lazily.ts';

const description =
  'Measure suites of workloads on a PC, seal the results, and say which difference is real.';

const after = `
Examples:
  steadyrig check first-light            is this rig fit to measure it?
  steadyrig run first-light --rig bench-a
  steadyrig show                         the latest sitting
  steadyrig compare bench-a bench-b      is the difference real?
  steadyrig verify results/*             has anything changed since?

Exit codes:
   0  fine
   1  finished, but something failed: a run, a seal
   2  bad input: an option, a suite, a folder
   3  the rig is unfit or busy, or has changed since its sitting began; nothing
      was measured
   4  ended early, or figures read by hand are missing; the sitting can be
      continued
  70  internal error`;

/** The whole command line. `exit` gets the status of the command that ran. */
export function makeProgram(exit: Exit): Command {
  const program = new Command('steadyrig')
    .description(description)
    .version(packageVersion(), '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print help')
    .helpCommand('help [command]', 'print help for a command')
    .showHelpAfterError('(add --help for the usage)')
    .exitOverride()
    .configureHelp({ subcommandTerm: (command) => command.name(), helpWidth: 80 })
    .addHelpText('after', after);
  program.commandsGroup('Measuring:');
  defineRun(program, exit);
  defineContinue(program, exit);
  defineAgain(program, exit);
  defineInstallService(program, exit);
  defineWatch(program, exit);
  defineCheck(program, exit);
  definePlan(program, exit);
  program.commandsGroup('Campaigns:');
  defineNext(program, exit);
  defineProgress(program, exit);
  program.commandsGroup('What is there:');
  defineInventory(program, exit);
  defineSensors(program, exit);
  defineList(program, exit);
  defineShow(program, exit);
  defineVerify(program, exit);
  program.commandsGroup('What it means:');
  defineCompare(program, exit);
  defineEffects(program, exit);
  defineWorth(program, exit);
  defineHistory(program, exit);
  defineReport(program, exit);
  definePrecision(program, exit);
  defineExclude(program, exit);
  program.commandsGroup('Guarding a CI:');
  defineGate(program, exit);
  defineBaseline(program, exit);
  program.commandsGroup('Figures from elsewhere, and for elsewhere:');
  defineEnter(program, exit);
  defineExport(program, exit);
  defineQuery(program, exit);
  defineImport(program, exit);
  defineSchema(program, exit);
  return program;
}

function packageVersion(): string {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
