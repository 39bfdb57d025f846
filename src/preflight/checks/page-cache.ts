import { access, constants } from 'node:fs/promises';
import type { Finding } from '../../model/finding.ts';
import type { CheckContext } from '../check.ts';

const dropCachesPath = '/proc/sys/vm/drop_caches';

/** The page cache can be emptied where workloads want to start with a cold one. */
export async function checkPageCache(
  { suite, platform }: CheckContext,
  switchPath: string = dropCachesPath,
): Promise<readonly Finding[]> {
  const cold = suite.workloads.filter(({ pageCache }) => pageCache === 'cold');
  if (cold.length === 0) return [];
  const why = platform === 'linux' ? await whyNotWritable(switchPath) : `this is ${platform}`;
  if (why === null) return [];
  return cold.map(({ id }) => ({
    check: 'page-cache',
    severity: 'refuse',
    workload: id,
    message: `asks for a cold page cache, which needs ${switchPath} to be written: ${why}`,
    remedy: 'start steadyrig as root on Linux, or choose page-cache: warm in the suite',
  }));
}

async function whyNotWritable(path: string): Promise<string | null> {
  try {
    await access(path, constants.W_OK);
    return null;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ENOENT') return 'this kernel does not offer it';
    return code === 'EROFS' ? 'it is read-only here (a container?)' : 'only root may';
  }
}
