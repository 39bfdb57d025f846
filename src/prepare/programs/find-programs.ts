import { realpath } from 'node:fs/promises';
import { hashFile } from '../../lib/hash-file.ts';
import type { Result } from '../../lib/result.ts';
import type { ProgramProbe } from '../../model/preparation.ts';
import type { ProgramFound } from '../../model/sitting.ts';
import type { ProgramRule, Suite } from '../../model/suite.ts';
import { isAtLeast } from './compare-versions.ts';
import { namedPrograms } from './named-programs.ts';
import type { AuxiliaryPlace } from './read-printed.ts';
import { readVersion } from './read-version.ts';

export interface ProgramPlaces extends AuxiliaryPlace {
  /** Absolute path of the program that a name means on the PATH of measured programs, or a clause why there is none. */
  readonly find: (name: string) => Result<string, string>;
}

/** Each program that the suite's workloads start: where it is, what is in its file, which version it says it is. */
export async function findPrograms(
  suite: Pick<Suite, 'workloads' | 'programs'>,
  places: ProgramPlaces,
): Promise<readonly ProgramProbe[]> {
  const probes: ProgramProbe[] = [];
  for (const [name, workloads] of namedPrograms(suite)) {
    const rule = Object.hasOwn(suite.programs, name) ? (suite.programs[name] ?? null) : null;
    probes.push({ name, workloads, rule, ...(await probe(name, rule, places)) });
  }
  return probes;
}

type Findings = Pick<ProgramProbe, 'found' | 'fault' | 'oddity'>;

async function probe(
  name: string,
  rule: ProgramRule | null,
  places: ProgramPlaces,
): Promise<Findings> {
  const file = places.find(name);
  if (!file.ok) return { found: null, fault: file.error, oddity: null };
  const named = await readProgram(name, file.value);
  if (named === null) return { found: null, fault: 'cannot be read', oddity: null };
  if (rule?.version == null) return { found: named, fault: null, oddity: null };
  const [asked, ...rest] = rule.version.argv;
  // The version may be told by another program, such as a package's own `-config`.
  const teller = asked === name ? file : places.find(asked);
  if (!teller.ok)
    return judge(named, rule, `its version cannot be asked: ${asked} ${teller.error}`);
  const version = await readVersion(
    teller.value,
    { argv: [asked, ...rest], pattern: rule.version.pattern },
    places,
  );
  if (!version.ok) return judge(named, rule, version.error);
  return judge({ ...named, version: version.value }, rule, null);
}

async function readProgram(name: string, file: string): Promise<ProgramFound | null> {
  try {
    const path = await realpath(file);
    const { sha256 } = await hashFile(path);
    return { name, path, sha256, version: null };
  } catch {
    return null;
  }
}

function judge(found: ProgramFound, { atLeast }: ProgramRule, oddity: string | null): Findings {
  if (atLeast === null) return { found, fault: null, oddity };
  if (found.version === null)
    return { found, fault: `${oddity}; at least ${atLeast} is needed`, oddity: null };
  if (isAtLeast(found.version, atLeast) === true) return { found, fault: null, oddity };
  return {
    found,
    fault: `is version ${found.version}; at least ${atLeast} is needed`,
    oddity: null,
  };
}
