import { RE2JS } from 're2js';
import { err, ok, type Result } from '../../lib/result.ts';
import type { ProgramRule } from '../../model/suite.ts';
import { type AuxiliaryPlace, readPrinted, timeLimitSeconds } from './read-printed.ts';

const mostVersionLength = 100;

/**
 * What a program says its version is: the first group of the first match in its standard output followed by its
 * standard error, whatever its exit code. The error is a clause that says why there is none.
 */
export async function readVersion(
  file: string,
  { argv, pattern }: NonNullable<ProgramRule['version']>,
  place: AuxiliaryPlace,
): Promise<Result<string, string>> {
  const { text, timedOut } = await readPrinted(file, argv, place);
  const found = firstGroup(pattern, text);
  if (found !== null) return ok(found);
  const asked = argv.join(' ');
  if (timedOut) return err(`did not tell its version within ${timeLimitSeconds} s (\`${asked}\`)`);
  return err(`did not tell its version: \`${asked}\` printed nothing that fits \`${pattern}\``);
}

function firstGroup(pattern: string, text: string): string | null {
  const matcher = RE2JS.compile(pattern).matcher(text);
  if (!matcher.find() || matcher.groupCount() === 0) return null;
  const group = (matcher.group(1) ?? '').trim();
  return group === '' ? null : group.slice(0, mostVersionLength);
}
