import type Big from 'big.js';
import type { Campaign } from '../../model/campaign.ts';
import type {
  ComparedRig,
  SittingFigures,
  WorkloadFigures,
} from '../../model/comparison-request.ts';
import type { RigEnergy, WithInterval } from '../../model/worth.ts';
import { mean } from '../../stats/mean.ts';
import { meanInterval } from '../../stats/mean-interval.ts';
import { exact, rounded } from './money.ts';

interface Spent {
  readonly joulesPerTask: number;
  readonly watts: number;
}

/** Energy of each rig by label, sittings being the unit; none for a rig without a figure. */
export function weighEnergy(
  rigs: readonly ComparedRig[],
  money: Campaign['money'],
  confidence: number,
): ReadonlyMap<string, RigEnergy> {
  const spent = rigs.map(({ label, sittings }) => ({ label, byWorkload: spentBy(sittings) }));
  const measured = spent.filter(({ byWorkload }) => byWorkload.size > 0);
  const [first, ...others] = measured;
  const shared = [...(first?.byWorkload.keys() ?? [])].filter((id) =>
    others.every(({ byWorkload }) => byWorkload.has(id)),
  );
  return new Map(
    measured.map(({ label, byWorkload }) => {
      const tasks = [...byWorkload].map(([workload, all]) => ({
        workload,
        unit: 'J' as const,
        sittings: all.filter((one) => one !== null).length,
        ...centre(
          all.flatMap((one) => one?.joulesPerTask ?? []),
          confidence,
        ),
      }));
      const power = powerOf(
        shared.flatMap((id) => [byWorkload.get(id) ?? []]),
        confidence,
      );
      const meanPower =
        power === null ? null : { ...power, unit: 'W' as const, workloads: shared.length };
      return [label, { tasks, meanPower, running: power === null ? null : running(power, money) }];
    }),
  );
}

/** Of each workload with a figure, one entry for each sitting; null where that sitting has none. */
function spentBy(sittings: readonly SittingFigures[]): ReadonlyMap<string, (Spent | null)[]> {
  const found = new Map<string, (Spent | null)[]>();
  for (const [at, sitting] of sittings.entries()) {
    for (const workload of sitting.workloads) {
      const spent = spentIn(workload);
      if (spent === null) continue;
      const own =
        found.get(workload.workload) ?? new Array<Spent | null>(sittings.length).fill(null);
      own[at] = spent;
      found.set(workload.workload, own);
    }
  }
  return found;
}

function spentIn({ energy, excluded }: WorkloadFigures): Spent | null {
  const runs = (energy ?? []).flatMap((run, at) =>
    run === null || excluded.includes(at) ? [] : [run],
  );
  const joules = runs.reduce((sum, run) => sum + run.joules, 0);
  const seconds = runs.reduce((sum, run) => sum + run.seconds, 0);
  return seconds > 0 ? { joulesPerTask: joules / runs.length, watts: joules / seconds } : null;
}

/** Mean over workloads, each counting alike, of every sitting that has all of them. */
function powerOf(
  workloads: readonly (readonly (Spent | null)[])[],
  confidence: number,
): WithInterval | null {
  const count = workloads[0]?.length ?? 0;
  const bySitting = Array.from({ length: count }, (_, at) =>
    workloads.flatMap((all) => all[at]?.watts ?? []),
  ).filter((watts) => watts.length === workloads.length);
  const means = bySitting.map((watts) => watts.reduce((sum, one) => sum + one, 0) / watts.length);
  return means.length === 0 ? null : centre(means, confidence);
}

function centre(values: readonly number[], confidence: number): WithInterval {
  const middle = mean(values);
  if (!middle.ok) throw new Error(`internal error: ${middle.error.message}`);
  const interval = meanInterval(values, confidence);
  const { low, high } = interval.ok ? interval.value : { low: null, high: null };
  return { value: middle.value, low: low === null ? null : Math.max(0, low), high };
}

/** A year of the campaign's hours at that power. */
function running(
  power: WithInterval,
  { energyPrice, hoursOfUse }: Campaign['money'],
): RigEnergy['running'] {
  if (energyPrice === null || hoursOfUse === null) return null;
  const energy = (watts: number): Big => exact(watts).times(hoursOfUse).div(1000);
  const cost = (watts: number | null): ReturnType<typeof rounded> | null =>
    watts === null ? null : rounded(energy(watts).times(energyPrice.amount), energyPrice.currency);
  return {
    kilowattHours: Number(energy(power.value)),
    cost: rounded(energy(power.value).times(energyPrice.amount), energyPrice.currency),
    low: cost(power.low),
    high: cost(power.high),
  };
}
