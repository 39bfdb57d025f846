import { suggest } from '../lib/suggest.ts';
import type { Fault } from './describe-issue.ts';
import { type Started, startedBy } from './started-programs.ts';
import type { WrittenCommand, WrittenInput, WrittenScripted } from './written.ts';

type Inputs = Readonly<Record<string, WrittenInput>>;

interface Use {
  readonly path: Fault['path'];
  readonly name: string;
}

/** Each input that is used is given, and each that is given is used. */
export function checkUses(workload: WrittenCommand | WrittenScripted): readonly Fault[] {
  const { inputs = {}, 'page-cache': pageCache } = workload;
  const names = Object.keys(inputs);
  const started = startedBy(workload);
  const uses = started.flatMap(usesOf);
  const used = new Set(uses.map(({ name }) => name));
  const undeclared = uses
    .filter(({ name }) => !names.includes(name))
    .map(({ path, name }) => fault(path, undeclaredInput(name, names)));
  const unused = names.filter((name) => !used.has(name)).map((name) => unusedInput(name, workload));
  const pointless =
    pageCache === undefined || names.length > 0
      ? []
      : [
          fault(
            ['page-cache'],
            `\`page-cache\` is \`${pageCache}\`, but this workload has no inputs; add some, or remove it`,
          ),
        ];
  return [
    ...undeclared,
    ...unused,
    ...started.flatMap((each) => checkStdin(each, inputs)),
    ...pointless,
  ];
}

function usesOf({ path, argv, stdin }: Started): readonly Use[] {
  const texts: readonly [Fault['path'], string][] = [
    ...argv.map((argument, index): [Fault['path'], string] => [[...path, 'argv', index], argument]),
    [[...path, 'stdin'], stdin ?? ''],
  ];
  return texts.flatMap(([at, text]) =>
    [...text.matchAll(/\{input:([^{}]*)\}/g)].map(([, name = '']) => ({ path: at, name })),
  );
}

function undeclaredInput(name: string, names: readonly string[]): string {
  const near = suggest(name, names);
  const hint = near === null ? 'expected a name given under `inputs`' : `did you mean \`${near}\`?`;
  return `\`{input:${name}}\` names no input of this workload; ${hint}`;
}

function unusedInput(name: string, { kind }: WrittenCommand | WrittenScripted): Fault {
  const where = kind === 'command' ? '`argv`' : '`argv` or `stdin` of a step';
  const message = `input \`${name}\` is used nowhere; write \`{input:${name}}\` in ${where}, or remove it`;
  return { path: ['inputs', name], at: 'key', message };
}

function checkStdin({ path, stdin }: Started, inputs: Inputs): readonly Fault[] {
  if (stdin === null || !stdin.includes('{')) return [];
  const at = [...path, 'stdin'];
  const name = /^\{input:([^{}]*)\}$/.exec(stdin)?.[1];
  if (name === undefined)
    return [
      fault(
        at,
        `\`stdin\` is \`${stdin}\`; expected \`{input:NAME}\` alone, or a file of the scratch folder without braces`,
      ),
    ];
  const input = Object.hasOwn(inputs, name) ? inputs[name] : undefined;
  if (input === undefined || !('archive' in input)) return [];
  return [
    fault(at, `\`stdin\` is \`${stdin}\`, the folder of an unpacked archive; expected a file`),
  ];
}

function fault(path: Fault['path'], message: string): Fault {
  return { path, at: 'value', message };
}
