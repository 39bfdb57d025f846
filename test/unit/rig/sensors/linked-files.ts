import type { RigFiles } from '../../../../src/rig/rig-files.ts';
import { memoryFiles } from '../memory-files.ts';

/** Chips by the path of their device: `pci0000:00/0000:00:18.3` and so on, with their files. */
export type Chips = Readonly<Record<string, Readonly<Record<string, string | Error>>>>;

/** A hwmon tree in which the chips have the numbers of their order, as the kernel gives them out. */
export function hwmonFiles(
  chips: Chips,
  others: Readonly<Record<string, string | Error>> = {},
): RigFiles & { readonly reads: string[] } {
  const texts: Record<string, string | Error> = { ...others };
  const links = new Map<string, string>();
  Object.entries(chips).forEach(([device, files], number) => {
    const own = `devices/${device}/hwmon/hwmon${number}`;
    links.set(`/sys/class/hwmon/hwmon${number}`, `../../${own}`);
    for (const [name, text] of Object.entries(files)) {
      texts[`/sys/${own}/${name}`] = text;
      texts[`/sys/class/hwmon/hwmon${number}/${name}`] = text;
    }
  });
  const files = memoryFiles(texts);
  const reads: string[] = [];
  return {
    ...files,
    reads,
    readText: (path) => {
      reads.push(path);
      return files.readText(path);
    },
    readLink: async (path) => links.get(path) ?? files.readLink(path),
  };
}
