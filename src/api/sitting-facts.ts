import { type PrivateLiteral, scrubText } from '../lib/scrub-text.ts';
import type { Meter } from '../model/meter.ts';
import type { ProgramFound, Sitting } from '../model/sitting.ts';
import { availableCpus } from '../rig/available-cpus.ts';
import type { ResolvedOptions } from './options.ts';
import type { Readiness } from './prepare-sitting.ts';
import { toolVersion } from './version.ts';

/** What a sitting writes down about the rig when it begins, but for the inventory. */
export type SittingFacts = Pick<
  Sitting,
  'programs' | 'inputs' | 'meter' | 'cpus' | 'asOtherUser' | 'tool'
>;

/** The facts as the rig stands, as they may be recorded. */
export async function sittingFacts(
  { programs, inputs }: Pick<Readiness, 'programs' | 'inputs'>,
  { root, user }: Pick<ResolvedOptions, 'root' | 'user'>,
  { meter, why }: { readonly meter: Meter; readonly why: string | null },
  literals: readonly PrivateLiteral[],
): Promise<SittingFacts> {
  return {
    tool: { name: 'steadyrig', version: toolVersion },
    meter: { name: meter.name, why },
    cpus: (await availableCpus(root)).count,
    asOtherUser: user !== null,
    programs: programs.map((program) => scrubProgram(program, literals)),
    inputs: inputs.map(({ path: _, ...input }) => input),
  };
}

function scrubProgram(program: ProgramFound, literals: readonly PrivateLiteral[]): ProgramFound {
  const { name, path, version } = program;
  // A version of four numbers looks like an address to `scrubText`, and is one word.
  const isPlain = version === null || /^[\w.+:~-]+$/.test(version);
  return {
    ...program,
    name: scrubText(name, literals).text,
    path: scrubText(path, literals).text,
    version: isPlain ? version : scrubText(version, literals).text,
  };
}
