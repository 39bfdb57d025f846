import type { Finding } from '../model/finding.ts';
import { openMeter } from '../runner/meter/open-meter.ts';
import type { LoadedSuite } from '../suite/load.ts';
import { examineRig } from './examine-rig.ts';
import { resolveOptions, type SittingOptions } from './options.ts';

/** Checks whether this rig is fit to measure a suite, without measuring or preparing anything. */
export async function checkRig(
  loaded: LoadedSuite,
  options: SittingOptions,
): Promise<readonly Finding[]> {
  const resolved = resolveOptions(options);
  const opened = await openMeter({ portable: resolved.portableMeter });
  try {
    return (await examineRig(loaded, resolved, opened, true)).findings;
  } finally {
    await opened.meter.close();
  }
}
