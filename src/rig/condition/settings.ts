import type { Confinement, FrequencySettings, RigCondition } from '../../model/rig-condition.ts';
import type { Collector } from '../collector.ts';
import { frequencyCollector } from '../collectors/frequency.ts';
import { powerCollector } from '../collectors/power.ts';
import { virtualizationCollector } from '../collectors/virtualization.ts';
import { cpusOf, parseCpuList, parseWord } from '../parse.ts';
import { type RawReading, readValue } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';
import { readUsableCpus } from '../usable-cpus.ts';

type Readings = Readonly<Record<string, RawReading>>;

/** What gives this rig its power, by the collector of the inventory. */
export async function readPower(files: RigFiles): Promise<RigCondition['power']> {
  const { mains } = await readingsOf(powerCollector, files);
  if (typeof mains?.value !== 'boolean') return null;
  return mains.value ? 'mains' : 'battery';
}

/** How the processor's clocks are governed, by the collector of the inventory. */
export async function readFrequencySettings(files: RigFiles): Promise<FrequencySettings> {
  const readings = await readingsOf(frequencyCollector, files);
  return {
    drivers: words(readings['drivers']),
    governors: words(readings['governors']),
    energyPreferences: words(readings['energyPreferences']),
    boost: flag(readings['boost']),
    platformProfile: text(readings['platformProfile']),
  };
}

/** Virtual machine, container and their limits, by the collector of the inventory. */
export async function readConfinement(files: RigFiles): Promise<Confinement> {
  const [readings, usable, online] = await Promise.all([
    readingsOf(virtualizationCollector, files),
    readUsableCpus(files),
    readValue(files, '/sys/devices/system/cpu/online', parseCpuList),
  ]);
  return {
    hypervisor: flag(readings['hypervisor']),
    container: flag(readings['container']),
    containerKind: text(readings['containerKind']),
    cpuLimit: number(readings['cpuLimit']),
    memoryLimitBytes: number(readings['memoryLimit']),
    usableCpus: count(usable),
    onlineCpus: count(online),
  };
}

/** What the kernel takes its time from. Source: Documentation/timers/timekeeping.rst. */
export async function readClockSource(files: RigFiles): Promise<string | null> {
  const path = '/sys/devices/system/clocksource/clocksource0/current_clocksource';
  return text(await readValue(files, path, parseWord));
}

/** A collector that fails leaves everything open. */
async function readingsOf(collector: Collector, files: RigFiles): Promise<Readings> {
  try {
    return (await collector.collect({ files, versions: {} })).readings;
  } catch {
    return {};
  }
}

function flag(reading: RawReading | undefined): boolean | null {
  return typeof reading?.value === 'boolean' ? reading.value : null;
}

function number(reading: RawReading | undefined): number | null {
  return typeof reading?.value === 'number' ? reading.value : null;
}

function text(reading: RawReading | undefined): string | null {
  return typeof reading?.value === 'string' ? reading.value : null;
}

function words(reading: RawReading | undefined): readonly string[] {
  const value = reading?.value;
  return Array.isArray(value) ? value.map(String) : [];
}

function count(reading: RawReading): number | null {
  return typeof reading.value === 'string' ? (cpusOf(reading.value)?.length ?? null) : null;
}
