import type { Plan, PlannedRun } from '../model/plan.ts';
import type { Cooldown, Suite } from '../model/suite.ts';
import { formatDuration, formatPercent } from './quantity.ts';
import { wrapText } from './text-table.ts';

interface FittingText {
  readonly seconds: number;
  readonly rounds: number;
  readonly planned: number;
}

/** The order of runs, a line for each round, with what will be waited and how long it may take. */
export function renderPlan(
  suite: Suite,
  plan: Plan,
  estimate: { readonly seconds: number; readonly basis: string },
  fitting: FittingText | null = null,
): string {
  const head = [
    `${suite.id}, revision ${suite.revision}: ${suite.title}`,
    `${plan.runs.length} runs: ${suite.workloads.length} workloads, warm-up rounds ${suite.warmUps}, repeats ${repeatsText(suite)}`,
    `order ${plan.order}, seed ${plan.seed}, cooldown ${cooldownText(suite)}`,
    `about ${formatDuration(estimate.seconds)} (${estimate.basis})`,
    ...(fitting === null ? [] : [fittingText(fitting, estimate.basis)]),
  ];
  const rounds = groupRounds(plan.runs).map((runs) => {
    const [first] = runs;
    if (first === undefined) return '';
    const name = `${first.phase} ${first.round}${first.conditional ? ', if needed' : ''}: `;
    return wrapText(name + runs.map(({ workload }) => workload).join(', '), 80, '  ');
  });
  return [...head.map((line) => wrapText(line, 80, '  ')), '', ...rounds].join('\n');
}

function fittingText({ seconds, rounds, planned }: FittingText, basis: string): string {
  const count = rounds === planned ? `all ${planned}` : `${rounds} of ${planned}`;
  return `into ${formatDuration(seconds)} fit ${count} rounds of repeats (${basis})`;
}

function groupRounds(runs: readonly PlannedRun[]): readonly (readonly PlannedRun[])[] {
  const rounds = new Map<string, PlannedRun[]>();
  for (const run of runs) {
    const key = `${run.phase} ${run.round}`;
    rounds.set(key, [...(rounds.get(key) ?? []), run]);
  }
  return [...rounds.values()];
}

function repeatsText({ repeats }: Suite): string {
  if (repeats.kind === 'fixed') return String(repeats.count);
  return `${repeats.atLeast} to ${repeats.atMost}, until the 95 % interval is within ±${formatPercent(repeats.untilHalfWidthBelow)}`;
}

function cooldownText({ cooldown }: Suite): string {
  if (cooldown.kind === 'fixed') return formatDuration(cooldown.seconds);
  const waits = `${formatDuration(cooldown.atLeastSeconds)} to ${formatDuration(cooldown.atMostSeconds)}`;
  if (cooldown.kind === 'temperature') return `${untilText(cooldown.until)}, ${waits}`;
  return `until the load is below ${formatPercent(cooldown.below)}, ${waits}`;
}

function untilText(until: Extract<Cooldown, { kind: 'temperature' }>['until']): string {
  return until.kind === 'below'
    ? `until the processor is below ${until.celsius} °C`
    : `until the processor is within ${until.withinKelvin} K of its idle temperature`;
}
