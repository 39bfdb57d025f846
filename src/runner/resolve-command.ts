import type { ShippedName } from '../model/shipped.ts';
import type { Parameters, Workload } from '../model/suite.ts';

/** What a command's placeholders stand for on this rig. */
export interface CommandPlaces {
  /** Absolute paths of the inputs by name. */
  readonly inputs: Readonly<Record<string, string>>;
  readonly scratch: string;
  /** CPUs this sitting may use. */
  readonly cpus: number;
  /** Node's own path, and where the compiled shipped workloads are. */
  readonly node: string;
  readonly shippedScript: (name: ShippedName) => string;
}

export interface ResolvedCommand {
  readonly argv: readonly [string, ...string[]];
  /** As passed to a shipped workload; null for a command. */
  readonly parameters: Parameters | null;
}

/** The argument vector of a workload: placeholders filled in, `threads: all` made a number. */
export function resolveCommand(workload: Workload, places: CommandPlaces): ResolvedCommand {
  const { program } = workload;
  if (program.kind === 'shipped') {
    const cpus = usableCpus(workload, places);
    const parameters = Object.fromEntries(
      Object.entries(program.parameters).map(([name, value]) => [
        name,
        name === 'threads' && value === 'all' ? cpus : value,
      ]),
    );
    const script = places.shippedScript(program.name);
    return { argv: [places.node, script, JSON.stringify(parameters)], parameters };
  }
  if (program.kind !== 'command') {
    throw new Error(`internal error: a ${program.kind} workload is no single command`);
  }
  return { argv: resolveArguments(program.argv, workload, places), parameters: null };
}

/** Arguments of a command or a step with their placeholders filled in; other braces are left alone. */
export function resolveArguments(
  [first, ...rest]: readonly [string, ...string[]],
  workload: Workload,
  places: CommandPlaces,
): readonly [string, ...string[]] {
  const cpus = usableCpus(workload, places);
  const fill = (argument: string): string =>
    argument.replace(
      /\{(?:input:([a-z0-9-]+)|(scratch)|(cpus))\}/g,
      (whole, input?: string, scratch?: string) => {
        if (input !== undefined) return places.inputs[input] ?? whole;
        return scratch === undefined ? String(cpus) : places.scratch;
      },
    );
  return [fill(first), ...rest.map(fill)];
}

function usableCpus({ affinity }: Workload, { cpus }: CommandPlaces): number {
  return affinity?.length ?? cpus;
}
