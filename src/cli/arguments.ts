import { Argument, type Command, InvalidArgumentError, Option } from 'commander';
import { parsePercentage } from './parse-percentage.ts';

/** Options and arguments that several commands share, and the reading of their values. */

export const suiteArgument: () => Argument = () =>
  new Argument('[suite]', 'suite file, or the name of a shipped suite').default('first-light');

export const resultsOption: () => Option = () =>
  new Option('--results <folder>', 'folder of the sittings').default('results');

export const rigOption: () => Option = () =>
  new Option('--rig <label>', 'label of this machine as it is now built').default('this-rig');

export const jsonOption: () => Option = () => new Option('--json', 'print JSON instead of text');

export const seedOption: () => Option = () =>
  new Option('--seed <number>', 'draw another order of runs than the suite states').argParser(
    wholeNumber(2 ** 32 - 1),
  );

export const profileOption: () => Option = () =>
  new Option('--profile <name>', 'another form that the suite has, such as a shortened one');

export const scratchOption: () => Option = () =>
  new Option('--scratch <folder>', 'parent of the scratch folders of runs');

export const cacheOption: () => Option = () =>
  new Option('--cache <folder>', 'where prepared inputs are kept (default: ~/.cache/steadyrig)');

export const skipMissingOption: () => Option = () =>
  new Option('--skip-missing', 'leave out workloads whose programs are missing');

export const portableMeterOption: () => Option = () =>
  new Option('--portable-meter', 'do without exact accounting by the kernel');

const noTelemetryOption: () => Option = () =>
  new Option('--no-telemetry', 'do not sample the sensors meanwhile');

const unattendedOption: () => Option = () =>
  new Option('--unattended', 'ask nobody: leave figures read by hand for later');

const noInhibitOption: () => Option = () =>
  new Option('--no-inhibit', 'do not hold off sleep and shutdown meanwhile');

const untilOption: () => Option = () =>
  new Option(
    '--until <time>',
    'be over by then, such as 07:00: start no run that may end later',
  ).conflicts('for');

const forOption: () => Option = () =>
  new Option('--for <duration>', 'the same for a length of time, such as 8h');

const logOption: () => Option = () =>
  new Option('--log <file>', 'append every event to a file as a JSON line');

export const asOption: () => Option = () =>
  new Option('--as <user>', 'as root: run workloads with the rights of this user');

const notifyCommandOption: () => Option = () =>
  new Option(
    '--notify-command <program>',
    'tell this program of the end: its name, or a JSON array with arguments',
  );

const notifyUrlOption: () => Option = () =>
  new Option('--notify-url <https address>', 'tell this address of the end, by a POST of JSON').env(
    'STEADYRIG_NOTIFY_URL',
  );

export const noVerifyOption: () => Option = () =>
  new Option('--no-verify', 'do not compare sealed sittings with their seals first');

/** `origin`: whose difference counts where none is given. */
export const mattersOption: (origin: string) => Option = (origin) =>
  new Option(
    '--matters <percentage>',
    `smallest difference that matters (default: ${origin})`,
  ).argParser((text) => parsePercentage(text, { least: 0, most: 0.5 }));

export const confidenceOption: () => Option = () =>
  new Option(
    '--confidence <percentage>',
    'of the intervals, from 90 % to 99.9 % (default: 95 %)',
  ).argParser((text) => parsePercentage(text, { least: 0.9, most: 0.999 }));

/** Options of a command that measures, whatever it is about; see `readMeasuringFlags`. */
export function addMeasuringOptions(command: Command): Command {
  return [
    ...[scratchOption(), cacheOption(), portableMeterOption(), asOption(), noTelemetryOption()],
    ...[noInhibitOption(), untilOption(), forOption(), unattendedOption()],
    ...[notifyCommandOption(), notifyUrlOption(), logOption(), jsonOption()],
  ].reduce((to, option) => to.addOption(option), command);
}

/** Reads a whole number from 0 to `max`. */
export function wholeNumber(max: number): (text: string) => number {
  return (text) => {
    const value = /^\d{1,10}$/.test(text) ? Number(text) : Number.NaN;
    if (value <= max) return value;
    throw new InvalidArgumentError(`a whole number from 0 to ${max} is needed`);
  };
}

/** Adds `condition=answer` to the answers given before. */
export function collectAnswer(
  text: string,
  answers: Readonly<Record<string, string>>,
): Readonly<Record<string, string>> {
  const [condition, answer] = parsePair(text, 'condition=answer', 'ambient="22 °C"');
  return { ...answers, [condition]: answer };
}

/** Adds `factor=level` to the levels given before. */
export function collectLevel(
  text: string,
  levels: Readonly<Record<string, string>>,
): Readonly<Record<string, string>> {
  const [factor, level] = parsePair(text, 'factor=level', 'memory="2x8 GiB"');
  if (factor in levels) throw new InvalidArgumentError(`the factor ${factor} has a level already`);
  return { ...levels, [factor]: level };
}

function parsePair(text: string, needed: string, example: string): readonly [string, string] {
  const parts = /^([a-z0-9][a-z0-9-]*)=(.+)$/.exec(text);
  if (parts?.[1] !== undefined && parts[2] !== undefined) return [parts[1], parts[2]];
  throw new InvalidArgumentError(`${needed} is needed, such as ${example}`);
}
