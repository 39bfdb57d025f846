import { suggest } from '../lib/suggest.ts';
import { parseAffinity } from './affinity.ts';
import type { Fault } from './describe-issue.ts';
import { resolveMetric } from './resolve-metric.ts';
import type { WrittenCommand, WrittenMetric, WrittenWorkload } from './written.ts';

/** What is wrong between the keys of one workload whose keys are each right by themselves. */
export function checkWorkload(workload: WrittenWorkload): readonly Fault[] {
  return [
    ...checkAffinity(workload),
    ...checkMetrics(workload.metrics ?? {}),
    ...(workload.kind === 'command' ? [...checkProgram(workload), ...checkInputs(workload)] : []),
  ];
}

function checkAffinity({ affinity }: WrittenWorkload): readonly Fault[] {
  if (affinity === undefined) return [];
  const parsed = parseAffinity(affinity);
  return parsed.ok ? [] : [fault(['affinity'], `\`affinity\`: ${parsed.error}`)];
}

/** The program runs in a scratch folder, so a path relative to somewhere else would not be found. */
function checkProgram({ argv }: WrittenCommand): readonly Fault[] {
  const [program = ''] = argv;
  const found =
    program === '' ? 'is empty' : `is \`${program}\`, a path relative to no known folder`;
  const isFound = /^\{input:[^}]*\}$|^[/]|^[A-Za-z]:[\\/]|^[^/\\]+$/.test(program);
  if (isFound) return [];
  const expected = "a program's name to be looked up, an absolute path, or `{input:NAME}`";
  return [fault(['argv', 0], `item 1 of \`argv\` ${found}; expected ${expected}`)];
}

function checkInputs({ argv, inputs = {} }: WrittenCommand): readonly Fault[] {
  const names = Object.keys(inputs);
  const used = argv.map((argument) =>
    [...argument.matchAll(/\{input:([^{}]*)\}/g)].map((match) => match[1] ?? ''),
  );
  const undeclared = used.flatMap((found, index) =>
    found
      .filter((name) => !names.includes(name))
      .map((name) => fault(['argv', index], undeclaredInput(name, names))),
  );
  const unused = names.filter((name) => !used.flat().includes(name));
  return [
    ...undeclared,
    ...unused.map((name) => ({
      path: ['inputs', name],
      at: 'key' as const,
      message: `input \`${name}\` is used nowhere; write \`{input:${name}}\` in \`argv\`, or remove it`,
    })),
  ];
}

function undeclaredInput(name: string, names: readonly string[]): string {
  const near = suggest(name, names);
  const hint = near === null ? 'expected a name given under `inputs`' : `did you mean \`${near}\`?`;
  return `\`{input:${name}}\` names no input of this workload; ${hint}`;
}

function checkMetrics(metrics: Readonly<Record<string, WrittenMetric>>): readonly Fault[] {
  return Object.entries(metrics).flatMap(([id, metric]) =>
    metric.from === 'derived' ? checkDerived(id, metric.per, metrics) : [],
  );
}

/** A derived metric is never a time, so `per` cannot lead round in a circle. */
function checkDerived(
  id: string,
  per: string,
  metrics: Readonly<Record<string, WrittenMetric>>,
): readonly Fault[] {
  const path = ['metrics', id, 'per'];
  const times = Object.entries(metrics)
    .filter(([name, metric]) => resolveMetric(name, metric).unit === 's')
    .map(([name]) => name);
  if (times.includes(per)) return [];
  const listed = times.map((name) => `\`${name}\``).join(', ');
  const expected =
    times.length === 0
      ? 'a time metric, of which this workload has none: add `wall: { from: accounting, reading: wall }`'
      : `one of its times: ${listed}`;
  const near = suggest(per, times);
  if (near !== null) return [fault(path, `\`per\` is \`${per}\`; did you mean \`${near}\`?`)];
  const found = Object.hasOwn(metrics, per)
    ? `\`${per}\`, which is not a time`
    : `\`${per}\`, which is no metric of this workload`;
  return [fault(path, `\`per\` is ${found}; expected ${expected}`)];
}

function fault(path: Fault['path'], message: string): Fault {
  return { path, at: 'value', message };
}
