import type { FrequencySettings, RigCondition } from '../../src/model/rig-condition.ts';
import type { CheckContext } from '../../src/preflight/check.ts';
import { sampleSuite } from './samples.ts';

const quietFrequency: FrequencySettings = {
  drivers: ['intel_pstate'],
  governors: ['powersave'],
  energyPreferences: ['balance_performance'],
  boost: true,
  platformProfile: 'balanced',
};

/** A desktop at rest that no check has anything against. Invented. */
export function fitCondition(changes: Partial<RigCondition> = {}): RigCondition {
  return {
    background: { cpus: 8, others: 0.1, stolen: 0, causes: [{ name: 'compositor', cpus: 0.1 }] },
    power: null,
    frequency: quietFrequency,
    swap: { totalBytes: 2 ** 31, usedBytes: 0, pagesMoved: 0 },
    otherSessions: 0,
    heat: { celsius: 36, critical: 100, throttleEvents: 0 },
    confinement: {
      hypervisor: false,
      container: false,
      containerKind: null,
      cpuLimit: null,
      memoryLimitBytes: null,
      usableCpus: 8,
      onlineCpus: 8,
    },
    clockSource: 'tsc',
    timers: [],
    reboot: { isAskedFor: false, running: '6.1.0-28-amd64', newer: null },
    resultsFileSystem: 'ext4',
    scratchFileSystem: 'tmpfs',
    kernel: { debugAids: [], troubles: [] },
    ...changes,
  };
}

export function frequency(changes: Partial<FrequencySettings>): Partial<RigCondition> {
  return { frequency: { ...quietFrequency, ...changes } };
}

/** What the checks look at on a fit rig. */
export function checkContext(changes: Partial<CheckContext> = {}): CheckContext {
  return {
    suite: sampleSuite(),
    condition: fitCondition(),
    programs: [],
    skipMissing: false,
    hasApt: false,
    inputs: [],
    cache: '/no/such/cache',
    tellsPreparation: false,
    cpus: null,
    results: '/tmp',
    scratch: '/tmp',
    meter: 'kernel',
    meterWhy: null,
    isRoot: false,
    platform: 'linux',
    availableMemoryBytes: 8 * 2 ** 30,
    plannedSeconds: 3600,
    ambientCelsius: null,
    earlierIdle: null,
    ...changes,
  };
}
