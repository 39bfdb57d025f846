import { readText } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

interface Mount {
  readonly folder: string;
  readonly type: string;
}

/** Types of file systems by where they are mounted, the later of two in one place last. Source: proc_pid_mountinfo(5). */
export async function readMounts(files: RigFiles): Promise<readonly Mount[]> {
  const text = await readText(files, '/proc/self/mountinfo');
  if (!text.ok) return [];
  return text.value.split('\n').flatMap((line) => {
    const [before = '', after = ''] = line.split(' - ');
    const folder = before.split(' ')[4];
    const type = after.split(' ')[0];
    return folder === undefined || !type ? [] : [{ folder: unescaped(folder), type }];
  });
}

/** Type of the file system that an absolute path without links lies on; null where it is not known. */
export function fileSystemAt(mounts: readonly Mount[], path: string): string | null {
  const around = mounts.filter(({ folder }) => isWithin(path, folder));
  const longest = Math.max(...around.map(({ folder }) => folder.length));
  return around.filter(({ folder }) => folder.length === longest).at(-1)?.type ?? null;
}

function isWithin(path: string, folder: string): boolean {
  return folder === '/' || path === folder || path.startsWith(`${folder}/`);
}

/** Spaces and the like are written as octal numbers. */
function unescaped(folder: string): string {
  return folder.replaceAll(/\\([0-7]{3})/g, (_, octal: string) =>
    String.fromCharCode(Number.parseInt(octal, 8)),
  );
}
