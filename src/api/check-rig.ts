import { freemem } from 'node:os';
import type { Finding } from '../model/finding.ts';
import type { Meter } from '../model/meter.ts';
import { runChecks } from '../preflight/run-checks.ts';
import { availableCpus } from '../rig/available-cpus.ts';
import { openMeter } from '../runner/meter/open-meter.ts';
import type { LoadedSuite } from '../suite/load.ts';
import { type ResolvedOptions, resolveOptions, type SittingOptions } from './options.ts';

/** Checks whether this rig is fit to measure a suite, without measuring anything. */
export async function checkRig(
  loaded: LoadedSuite,
  options: SittingOptions,
): Promise<readonly Finding[]> {
  const resolved = resolveOptions(options);
  const { meter, why } = await openMeter({ portable: resolved.portableMeter });
  try {
    return await findings(loaded, resolved, meter, why);
  } finally {
    await meter.close();
  }
}

/** The checks with a meter that is open already. */
export async function findings(
  { suite, folder }: LoadedSuite,
  { path, results, scratch, root }: ResolvedOptions,
  meter: Meter,
  meterWhy: string | null,
): Promise<readonly Finding[]> {
  return runChecks({
    suite,
    folder,
    path,
    cpus: (await availableCpus(root)).cpus,
    results,
    scratch,
    meter: meter.name,
    meterWhy,
    isRoot: process.getuid?.() === 0,
    platform: process.platform,
    availableMemoryBytes: freemem(),
  });
}
