import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { whySuiteFile } from '../../api/continue/suite-to-continue.ts';
import { findSuite } from '../../api/find-suite.ts';
import { formatProblem } from '../../model/problem.ts';
import type { Sitting } from '../../model/sitting.ts';
import { renderServiceUnit } from '../../report/service-unit.ts';
import { wrapText } from '../../report/text-table.ts';
import { isSealed, readSittingFile } from '../../results/read-sitting.ts';
import { removeServiceFiles } from '../../results/service-files.ts';
import { isAccepted } from '../acknowledge.ts';
import { cacheFolder } from '../cache-folder.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { folderToContinue } from '../folder-to-continue.ts';
import { terminalOperator } from '../operator-prompt.ts';
import { type AsFlags, otherUser } from '../other-user.ts';
import { print, printError, printExactly } from '../print.ts';
import {
  enableCommands,
  installedScopes,
  removeUnit,
  runCommand,
  type ServiceScope,
  unitPath,
  writeUnit,
} from '../service-manager.ts';

interface ServiceFlags extends AsFlags {
  readonly results: string;
  readonly suite?: string;
  readonly cache?: string;
  readonly scratch?: string;
  readonly system?: true;
  readonly print?: true;
  readonly remove?: true;
  readonly yes?: true;
}

export async function installService(
  given: string | undefined,
  flags: ServiceFlags,
): Promise<ExitCode> {
  const scope = flags.system ? 'system' : 'user';
  if (scope === 'system' && !flags.print && process.getuid?.() !== 0) {
    return refuse(
      'option --system: only root can write system units; leave it out for a user unit',
    );
  }
  const folder = await folderToContinue(given, flags.results);
  if (!folder.ok) return refuse(formatProblem(folder.error));
  const begun = await readSittingFile(folder.value);
  if (!begun.ok) return refuse(formatProblem(begun.error));
  const sitting = begun.value;
  if (flags.remove) return remove(sitting);
  const fault = await whyNotInstalled(folder.value, sitting, flags);
  if (fault !== null) return refuse(fault);
  const text = renderServiceUnit({
    ...{ sitting: sitting.id, folder: resolve(folder.value), scope },
    command: serviceCommand(folder.value, flags),
  });
  if (flags.print) {
    printExactly(text);
    return exitCodes.fine;
  }
  return install(sitting.id, folder.value, scope, text, flags);
}

function refuse(message: string): ExitCode {
  printError(message);
  return exitCodes.badInput;
}

async function whyNotInstalled(
  folder: string,
  sitting: Sitting,
  flags: ServiceFlags,
): Promise<string | null> {
  if (isSealed(folder)) return `${folder}: is sealed: there is nothing to continue`;
  if (sitting.state === 'waiting') {
    return `${folder}: waits only for figures read by hand: steadyrig enter ${folder}`;
  }
  if (/\p{Cc}/u.test(resolve(folder))) return `${folder}: its path holds control characters`;
  const why = flags.suite === undefined ? whySuiteFile(sitting) : null;
  if (why !== null) return `${sitting.id} needs its suite file: ${why}; give it with --suite`;
  const user = await otherUser(flags);
  return user.ok ? null : user.error;
}

function serviceCommand(folder: string, flags: ServiceFlags): [string, ...string[]] {
  const main = fileURLToPath(new URL('../main.js', import.meta.url));
  const cache = cacheFolder(flags.cache);
  const option = (name: string, value: string | undefined): string[] =>
    value === undefined ? [] : [name, value];
  return [
    process.execPath,
    ...[main, 'continue', resolve(folder), '--from-service'],
    ...option('--suite', flags.suite && resolve(findSuite(flags.suite))),
    ...option('--cache', cache && resolve(cache)),
    ...option('--scratch', flags.scratch && resolve(flags.scratch)),
    ...option('--as', flags.as),
  ];
}

/** Shows what is to be done, asks, and does it. */
async function install(
  sitting: string,
  folder: string,
  scope: ServiceScope,
  text: string,
  { yes }: ServiceFlags,
): Promise<ExitCode> {
  const path = unitPath(scope, sitting);
  const commands = enableCommands(scope, sitting);
  print(`${path}:\n\n${indent(text.trimEnd())}\n`);
  print(
    `Then, to start it at boot:\n\n${indent(commands.map((one) => one.join(' ')).join('\n'))}\n`,
  );
  if (scope === 'user') print(`${lingering}\n`);
  if (!yes && !(await isConfirmed())) {
    printError('nothing was written; --yes writes it without asking, --print only prints it');
    return exitCodes.badInput;
  }
  await removeServiceFiles(folder);
  await writeUnit(path, text);
  print(`written: ${path}`);
  for (const command of commands) {
    const fault = await runCommand(command);
    if (fault === null) continue;
    printError(wrapText(`${fault}; run these commands yourself where systemd runs`, 80, '  '));
    return exitCodes.failed;
  }
  print('enabled: the sitting is continued after the next start of this machine');
  return exitCodes.fine;
}

const lingering = [
  'A user unit starts with the first login, unless lingering is on: then with the',
  'machine. To have it so (steadyrig does not change it):',
  '',
  '  loginctl enable-linger',
].join('\n');

function indent(text: string): string {
  return text.replace(/^(?=.)/gm, '  ');
}

async function isConfirmed(): Promise<boolean> {
  const operator = terminalOperator(process.stdin, process.stdout);
  return operator !== null && (await isAccepted(operator));
}

async function remove({ id }: Sitting): Promise<ExitCode> {
  const scopes = installedScopes(id);
  if (scopes.length === 0) return refuse(`${id} has no service`);
  for (const scope of scopes) {
    const faults = await removeUnit(scope, id);
    print(`removed: ${unitPath(scope, id)}`);
    for (const fault of faults) printError(wrapText(fault, 80, '  '));
  }
  return exitCodes.fine;
}
