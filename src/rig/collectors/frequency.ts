import type { Collector } from '../collector.ts';
import {
  cpuListOf,
  cpusOf,
  parseChosen,
  parseOppositeSwitch,
  parseSwitch,
  parseWord,
  scaled,
} from '../parse.ts';
import {
  absent,
  foundIn,
  type Parse,
  present,
  type RawItem,
  type RawReading,
  readAll,
  readFirst,
  readNames,
} from '../reading.ts';
import { byNumber, type RigFiles } from '../rig-files.ts';

const cpuFolder = '/sys/devices/system/cpu';
const policyFolder = `${cpuFolder}/cpufreq`;
const kilohertz = scaled(1000);
const percent = scaled(0.01);

/** Formats: Documentation/admin-guide/pm/{cpufreq,intel_pstate,amd-pstate,cpuidle}.rst. */
export const frequencyCollector: Collector = {
  name: 'frequency',
  collect: async ({ files }) => {
    const [policies, global, boost, mode] = await Promise.all([
      readPolicies(files),
      readAll(files, '/sys', {
        preferredCores: ['devices/system/cpu/amd_pstate/prefcore', parsePreferred],
        minPerformance: ['devices/system/cpu/intel_pstate/min_perf_pct', percent],
        maxPerformance: ['devices/system/cpu/intel_pstate/max_perf_pct', percent],
        dynamicBoost: ['devices/system/cpu/intel_pstate/hwp_dynamic_boost', parseSwitch],
        platformProfile: ['firmware/acpi/platform_profile', parseChosen],
        idleDriver: ['devices/system/cpu/cpuidle/current_driver', parseWord],
        idleGovernor: ['devices/system/cpu/cpuidle/current_governor', parseWord],
      }),
      // A permission, not an activity; intel_pstate states the opposite.
      readFirst(files, [
        [`${policyFolder}/boost`, parseSwitch],
        [`${cpuFolder}/intel_pstate/no_turbo`, parseOppositeSwitch],
        [`${policyFolder}/policy0/boost`, parseSwitch],
      ]),
      readFirst(files, [
        [`${cpuFolder}/intel_pstate/status`, parseWord],
        [`${cpuFolder}/amd_pstate/status`, parseWord],
      ]),
    ]);
    return {
      readings: {
        ...global,
        boost,
        driverMode: mode,
        drivers: distinct(policies.items, 'driver'),
        governors: distinct(policies.items, 'governor'),
        energyPreferences: distinct(policies.items, 'energyPreference'),
        policiesFound: policies.found,
      },
      items: { policies: policies.items },
    };
  },
};

const parsePreferred: Parse = (text) => {
  const word = text.trim();
  return word === 'enabled' || word === 'disabled' ? word === 'enabled' : null;
};

/** The different values of one field over all policies; usually one. */
function distinct(items: readonly RawItem[], name: string): RawReading {
  const readings = items.map((item) => item[name]).filter((reading) => reading !== undefined);
  const values = [
    ...new Set(readings.filter(({ value }) => value !== null).map(({ value }) => String(value))),
  ];
  const first = readings.find(({ value }) => value !== null) ?? readings[0];
  if (first === undefined) return absent('no-such-file', policyFolder);
  return values.length === 0 ? first : present(values.sort(byNumber), first.source);
}

async function readPolicies(files: RigFiles): Promise<{ found: RawReading; items: RawItem[] }> {
  const names = await readNames(files, policyFolder, /^policy\d{1,5}$/);
  const policies = await Promise.all(
    (names.ok ? names.value : []).map((name) => readPolicy(files, `${policyFolder}/${name}`)),
  );
  return {
    found: foundIn(names, policyFolder, policies.length),
    items: groupPolicies(policies),
  };
}

function readPolicy(files: RigFiles, folder: string): Promise<Record<string, RawReading>> {
  return readAll(files, folder, {
    cpus: ['affected_cpus', (text) => cpusOf(text.trim().replaceAll(/\s+/g, ','))],
    driver: ['scaling_driver', parseWord],
    governor: ['scaling_governor', parseWord],
    energyPreference: ['energy_performance_preference', parseWord],
    hardwareMin: ['cpuinfo_min_freq', kilohertz],
    hardwareMax: ['cpuinfo_max_freq', kilohertz],
    base: ['base_frequency', kilohertz],
    allowedMin: ['scaling_min_freq', kilohertz],
    allowedMax: ['scaling_max_freq', kilohertz],
    now: ['scaling_cur_freq', kilohertz],
  });
}

const moving = new Set(['cpus', 'now']);

/** Policies that are set alike as one item: a desktop has one policy for each thread, all but always alike. */
function groupPolicies(policies: readonly Record<string, RawReading>[]): RawItem[] {
  const groups = new Map<string, Record<string, RawReading>[]>();
  for (const policy of policies) {
    const fixed = Object.entries(policy).filter(([name]) => !moving.has(name));
    const key = JSON.stringify(fixed.map(([name, { value }]) => [name, value]));
    groups.set(key, [...(groups.get(key) ?? []), policy]);
  }
  return [...groups.values()].map((group) => {
    const { cpus, now, ...alike } = group[0] ?? {};
    return {
      ...alike,
      cpus: merged(group, 'cpus', cpus, (lists) => cpuListOf(lists)),
      lowestNow: merged(group, 'now', now, (clocks) => Math.min(...clocks)),
      highestNow: merged(group, 'now', now, (clocks) => Math.max(...clocks)),
    };
  });
}

function merged(
  group: readonly Record<string, RawReading>[],
  name: string,
  first: RawReading | undefined,
  combine: (numbers: number[]) => string | number,
): RawReading {
  const numbers = group.flatMap((policy) => policy[name]?.value ?? []).map(Number);
  if (numbers.length > 0) return present(combine(numbers), first?.source ?? policyFolder);
  return first ?? absent('not-reported', policyFolder);
}
