import { RE2JS } from 're2js';
import { err, ok, type Result } from '../../lib/result.ts';
import type { ProgramRule } from '../../model/suite.ts';

/** How auxiliary programs are started: with exactly this environment, in this folder. */
export interface AuxiliaryPlace {
  readonly environment: Readonly<Record<string, string>>;
  readonly workingFolder: string;
}

const timeLimitSeconds = 10;
const mostOutputBytes = 2 ** 20;
const mostVersionLength = 100;

/**
 * What a program says its version is: the first group of the first match in its standard output followed by its
 * standard error, whatever its exit code. The error is a clause that says why there is none.
 */
export async function readVersion(
  file: string,
  { argv, pattern }: NonNullable<ProgramRule['version']>,
  { environment, workingFolder }: AuxiliaryPlace,
): Promise<Result<string, string>> {
  const { execa } = await import('execa');
  const asked = argv.join(' ');
  const { timedOut, stdout, stderr } = await execa(file, argv.slice(1), {
    argv0: argv[0],
    env: environment,
    extendEnv: false,
    cwd: workingFolder,
    stdin: 'ignore',
    timeout: timeLimitSeconds * 1000,
    forceKillAfterDelay: 500,
    maxBuffer: mostOutputBytes,
    reject: false,
    stripFinalNewline: false,
  });
  const found = firstGroup(pattern, `${stdout ?? ''}\n${stderr ?? ''}`);
  if (found !== null) return ok(found);
  if (timedOut) return err(`did not tell its version within ${timeLimitSeconds} s (\`${asked}\`)`);
  return err(`did not tell its version: \`${asked}\` printed nothing that fits \`${pattern}\``);
}

function firstGroup(pattern: string, text: string): string | null {
  const matcher = RE2JS.compile(pattern).matcher(text);
  if (!matcher.find() || matcher.groupCount() === 0) return null;
  const group = (matcher.group(1) ?? '').trim();
  return group === '' ? null : group.slice(0, mostVersionLength);
}
