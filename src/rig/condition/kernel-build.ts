import type { KernelBuild } from '../../model/rig-condition.ts';
import { taintReasons } from '../kernel-taint.ts';
import { parseInteger, parseWord } from '../parse.ts';
import { type Read, readText, readValue } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

/** Settings of a build that cost much time. Source: the help texts of lib/Kconfig.debug and lib/Kconfig.kasan. */
const costlySettings =
  /^(CONFIG_(?:KASAN|KMSAN|KCSAN|PROVE_LOCKING|LOCK_STAT|DEBUG_LOCK_ALLOC|DEBUG_KMEMLEAK|DEBUG_PAGEALLOC_ENABLE_DEFAULT|SLUB_DEBUG_ON|GCOV_KERNEL|KCOV))=y$/gm;

/** The same, asked for at boot. Source: Documentation/admin-guide/kernel-parameters.txt. */
const costlyParameters =
  /(?:^|\s)(slub_debug(?:=[^\s]*)?|slab_debug(?:=[^\s]*)?|debug_pagealloc=on|kmemleak=on|page_owner=on|page_poison=(?:1|on)|init_on_free=1)(?=\s|$)/g;

/** Taint flags that tell of trouble since boot, by their meaning: Documentation/admin-guide/tainted-kernels.rst. */
const troubles = new Set(['machine check exception', 'bad page', 'oops or BUG', 'soft lockup']);

/** Traces that debugging aids leave; files that are missing or closed to us leave that open. */
export async function readKernelBuild(files: RigFiles): Promise<KernelBuild> {
  const [release, line, lockdep, taint] = await Promise.all([
    readValue(files, '/proc/sys/kernel/osrelease', parseWord),
    readText(files, '/proc/cmdline'),
    readText(files, '/proc/lockdep_stats'),
    readValue(files, '/proc/sys/kernel/tainted', parseInteger),
  ]);
  const name = typeof release.value === 'string' ? release.value : null;
  const config = name === null ? null : await readText(files, `/boot/config-${name}`);
  const aids = [
    ...(name !== null && /(?:^|[-+.])(?:debug|dbg)\b/i.test(name) ? [`release ${name}`] : []),
    ...(config?.ok ? found(config.value, costlySettings) : []),
    ...(isThere(lockdep) ? ['lock checking (/proc/lockdep_stats)'] : []),
    ...(line.ok ? found(line.value, costlyParameters) : []),
  ];
  const flags = typeof taint.value === 'number' && taint.value > 0 ? taintReasons(taint.value) : [];
  return { debugAids: aids, troubles: flags.filter((flag) => troubles.has(flag)) };
}

function found(text: string, pattern: RegExp): readonly string[] {
  return [...text.matchAll(pattern)].map(([, aid]) => aid ?? '');
}

/** Only root may read it. */
function isThere(file: Read<string>): boolean {
  return file.ok || file.absent.absent === 'not-permitted';
}
