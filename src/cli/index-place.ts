import { homedir } from 'node:os';
import { join } from 'node:path';
import { toolVersion } from '../api/version.ts';
import type { IndexPlace } from '../results/index/index-place.ts';
import { cacheFolder } from './cache-folder.ts';

/** Where commands keep what they found in sealed sittings: beside the prepared inputs. */
export function indexPlace(): IndexPlace {
  const cache = cacheFolder(undefined) ?? join(homedir(), '.cache', 'steadyrig');
  return { folder: join(cache, 'index'), tool: toolVersion };
}
