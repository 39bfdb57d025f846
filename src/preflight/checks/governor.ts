import type { Finding } from '../../model/finding.ts';
import type { FrequencySettings } from '../../model/rig-condition.ts';
import { type MovingContext, rigFinding } from '../check.ts';

/**
 * Clocks are governed alike on all CPUs and not held down. With intel_pstate and amd_pstate in active mode, powersave
 * is the usual choice and reaches full clocks; with other drivers it stays at the lowest. Source:
 * Documentation/admin-guide/pm/{cpufreq,intel_pstate,amd-pstate}.rst.
 */
export function checkGovernor({ condition: { frequency } }: MovingContext): readonly Finding[] {
  return [
    ...mixedGovernors(frequency),
    ...slowGovernor(frequency),
    ...energyPreference(frequency),
    ...platformProfile(frequency),
    ...boostOff(frequency),
  ];
}

function note(message: string, remedy: string): readonly Finding[] {
  return [rigFinding('governor', 'note', message, remedy)];
}

function mixedGovernors({ governors }: FrequencySettings): readonly Finding[] {
  if (governors.length < 2) return [];
  const message = `CPUs have different governors: ${governors.join(', ')}`;
  const remedy = 'set one for all, as root: cpupower frequency-set --governor NAME';
  return [rigFinding('governor', 'warn', message, remedy)];
}

function slowGovernor({ governors, drivers }: FrequencySettings): readonly Finding[] {
  // In active mode the two drivers have these names, in passive mode others.
  const isActive = drivers.every((name) => name === 'intel_pstate' || name === 'amd-pstate-epp');
  const slow = governors.filter(
    (name) => name === 'conservative' || (name === 'powersave' && !isActive),
  );
  if (slow.length === 0) return [];
  return note(
    `governor ${slow.join(', ')} with driver ${drivers.join(', ') || 'unknown'} holds clocks down`,
    'as root: cpupower frequency-set --governor schedutil (or performance)',
  );
}

function energyPreference({ energyPreferences }: FrequencySettings): readonly Finding[] {
  const sparing = energyPreferences.filter((name) => /^(?:balance_)?power$/.test(name));
  if (sparing.length === 0) return [];
  return note(
    `the energy preference of the processor is ${sparing.join(', ')}`,
    'as root: cpupower set --epp balance_performance; or choose another power mode of the desktop',
  );
}

function platformProfile({ platformProfile: profile }: FrequencySettings): readonly Finding[] {
  if (profile === null || !/^(?:low-power|cool|quiet)$/.test(profile)) return [];
  return note(
    `the power profile of the firmware is ${profile}`,
    'choose another power mode of the desktop',
  );
}

function boostOff({ boost }: FrequencySettings): readonly Finding[] {
  if (boost !== false) return [];
  return note(
    'boost clocks are not permitted',
    'fine when meant so: rigs compare only when set alike; else allow them in the firmware or by cpupower',
  );
}
