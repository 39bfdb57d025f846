import { fieldsOf } from '../parse.ts';
import { readText } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

/** Swap as it stands now. */
export interface SwapLook {
  readonly totalBytes: number;
  readonly usedBytes: number;
  /** Since boot, in either direction; null where the kernel does not count. */
  readonly pages: number | null;
}

/** Null where the kernel does not tell. Source: Documentation/filesystems/proc.rst, meminfo. */
export async function readSwap(files: RigFiles): Promise<SwapLook | null> {
  const [text, pages] = await Promise.all([
    readText(files, '/proc/meminfo'),
    readSwappedPages(files),
  ]);
  if (!text.ok) return null;
  const fields = fieldsOf(text.value, ':');
  const total = bytesOf(fields.get('SwapTotal'));
  const free = bytesOf(fields.get('SwapFree'));
  if (total === null || free === null) return null;
  return { totalBytes: total, usedBytes: Math.max(0, total - free), pages };
}

/** Pages written to and read from swap since boot; null where the kernel does not count them. */
export async function readSwappedPages(files: RigFiles): Promise<number | null> {
  const text = await readText(files, '/proc/vmstat');
  if (!text.ok) return null;
  const moved = [...text.value.matchAll(/^pswp(?:in|out) (\d{1,15})$/gm)].map(([, pages]) =>
    Number(pages),
  );
  return moved.length === 2 ? (moved[0] ?? 0) + (moved[1] ?? 0) : null;
}

function bytesOf(field: string | undefined): number | null {
  const kibibytes = /^(\d{1,15}) kB$/.exec(field ?? '')?.[1];
  return kibibytes === undefined ? null : Number(kibibytes) * 1024;
}
