import { suggest } from '../lib/suggest.ts';
import { programFault } from './check-workload.ts';
import type { Fault } from './describe-issue.ts';
import { startedBy } from './started-programs.ts';
import type { WrittenProgram, WrittenWorkload } from './written.ts';

/** Each program that the suite tells about is one that it starts, and so is what tells its version. */
export function checkPrograms(
  programs: Readonly<Record<string, WrittenProgram>>,
  workloads: Iterable<WrittenWorkload>,
): readonly Fault[] {
  const started = [...workloads].flatMap((workload) =>
    startedBy(workload).map(({ argv: [program = ''] }) => program),
  );
  const asked = Object.values(programs).map(({ version }) => version?.argv[0] ?? '');
  const used = new Set([...started, ...asked]);
  return Object.entries(programs).flatMap(([name, { version, 'at-least': least }]): Fault[] => {
    const faults: Fault[] = [];
    if (least !== undefined && version === undefined)
      faults.push({
        path: ['programs', name, 'at-least'],
        at: 'value',
        message: unknowable(least),
      });
    if (!used.has(name))
      faults.push({ path: ['programs', name], at: 'key', message: unused(name, started) });
    const wrong = version === undefined ? null : versionFault(version.argv[0] ?? '');
    if (wrong !== null)
      faults.push({ path: ['programs', name, 'version', 'argv', 0], at: 'value', message: wrong });
    return faults;
  });
}

function unused(name: string, started: readonly string[]): string {
  const near = suggest(name, started);
  const hint =
    near === null
      ? 'expected the first item of an `argv`, as written there'
      : `did you mean \`${near}\`?`;
  return `program \`${name}\` is started by no workload; ${hint}`;
}

function unknowable(least: string): string {
  return `\`at-least\` is \`${least}\`, but nothing tells the version; add \`version\``;
}

/** It is asked before any workload runs, so it is no input and nothing built. */
function versionFault(program: string): string | null {
  if (!program.includes('{') && programFault(program, false) === null) return null;
  return `item 1 of \`argv\` is \`${program}\`; expected a program's name to be looked up, or an absolute path`;
}
