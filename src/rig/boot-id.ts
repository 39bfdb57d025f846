import { readValue } from './reading.ts';
import { rigFiles } from './rig-files.ts';

/** The kernel's id of this boot, made anew at each; null where it cannot be read. Source: random(4). */
export async function readBootId(root: string): Promise<string | null> {
  const id = await readValue(rigFiles(root), '/proc/sys/kernel/random/boot_id', (text) =>
    /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/.test(text.trim()) ? text.trim() : null,
  );
  return typeof id.value === 'string' ? id.value : null;
}
