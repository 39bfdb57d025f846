import { leftOutWorkloads } from '../model/parked-workloads.ts';
import type { PlannedRun } from '../model/plan.ts';
import type { Correction, RunRecord } from '../model/run.ts';
import { notAskedFor, type Sitting } from '../model/sitting.ts';
import { standingRuns, supersededRuns } from '../model/standing-runs.ts';
import type { SittingSummary } from '../model/summary.ts';
import { renderCorrections } from './correction-lines.ts';
import { missingText } from './missing-figures.ts';
import { formatDuration } from './quantity.ts';
import { renderSensorLine } from './sensor-lines.ts';
import { renderSummary } from './summary-page.ts';
import { wrapText } from './text-table.ts';

/** What a page about a sitting needs to know beside its figures. */
export interface SittingFacts {
  readonly sitting: Sitting;
  readonly runs: readonly RunRecord[];
  readonly corrections: readonly Correction[];
  readonly sealed: boolean;
  readonly tornBytes: number;
}

const labelWidth = 10;

/** A sitting for people: what, when, how, its state, and its figures. `missing` are runs whose figures are to be entered. */
export function renderSitting(
  facts: SittingFacts,
  summary: SittingSummary,
  missing: readonly PlannedRun[] = [],
): string {
  const { sitting, runs, corrections } = facts;
  const { suite } = sitting;
  const levels = Object.entries(sitting.levels).map(([factor, level]) => `${factor} = ${level}`);
  const { ambientCelsius, notes } = sitting.conditions;
  const lines: [label: string, text: string][] = [
    ['sitting', sitting.id],
    ['rig', [sitting.rig, ...levels].join(', ')],
    [
      'suite',
      `${suite.resolved.id}, revision ${suite.resolved.revision}, digest ${suite.resolved.digest.slice(0, 12)}`,
    ],
    originLine(sitting),
    ['state', stateText(facts)],
  ];
  if (missing.length > 0) lines.push(['to enter', missingText(missing)]);
  const sensors = renderSensorLine(runs, sitting);
  if (sensors !== null) lines.push(['sensors', sensors]);
  if (sitting.idleCelsius !== null) lines.push(['at rest', `processor ${sitting.idleCelsius} °C`]);
  if (sitting.deadline !== null) lines.push(['deadline', sitting.deadline]);
  if (sitting.notInhibited !== null && sitting.notInhibited !== notAskedFor)
    lines.push(['awake', sitting.notInhibited]);
  if (ambientCelsius !== null) lines.push(['room', `${ambientCelsius} °C`]);
  if (notes !== null) lines.push(['notes', notes]);
  lines.push(...campaignLines(sitting));
  const head = lines.map(
    ([label, text]) =>
      label.padEnd(labelWidth) +
      wrapText(text, 80 - labelWidth).replace(/\n/g, `\n${' '.repeat(labelWidth)}`),
  );
  const corrected = renderCorrections(suite.resolved, runs, corrections);
  return [
    ...head,
    '',
    renderSummary(summary, runs, leftOutWorkloads(sitting, runs)),
    ...(corrected.length > 0 ? ['', ...corrected] : []),
  ].join('\n');
}

/** What led to it, and what was accepted about the rig. */
function campaignLines({
  campaign,
  again,
  assembly,
}: Sitting): readonly [label: string, text: string][] {
  const lines: [label: string, text: string][] = [];
  if (again !== undefined) lines.push(['again', `${again.workload} of ${again.of}`]);
  if (campaign === undefined) return lines;
  const { id, accepted, confirmed, answers } = campaign;
  lines.push(['campaign', assembly === null ? id : `${id}, assembly ${assembly}`]);
  for (const { path, from, to, reason } of accepted)
    lines.push(['accepted', `${path}: ${to ?? 'absent'} for ${from ?? 'absent'}: ${reason}`]);
  if (confirmed.length > 0) lines.push(['looked at', `by the operator: ${confirmed.join('; ')}`]);
  for (const { prompt, text } of answers) lines.push(['asked', `${prompt}: ${text ?? 'not told'}`]);
  return lines;
}

function originLine(sitting: Sitting): [label: string, text: string] {
  const { imported, meter, plan, tool } = sitting;
  if (imported !== null) {
    return [
      'imported',
      `from ${imported.file} (there ${imported.sitting}, SHA-256 ${imported.sha256.slice(0, 12)}), not measured by steadyrig`,
    ];
  }
  const how = meter === null ? 'no meter' : `${meter.name} meter`;
  return [
    'measured',
    `${sitting.startedAt}${lengthText(sitting)}, seed ${plan.seed}, ${how}, steadyrig ${tool.version}`,
  ];
}

function lengthText({ startedAt, endedAt }: Sitting): string {
  if (endedAt === null) return '';
  return `, ${formatDuration((Date.parse(endedAt) - Date.parse(startedAt)) / 1000)}`;
}

function stateText({ sitting, runs, sealed, tornBytes }: SittingFacts): string {
  const standing = standingRuns(runs, []);
  const failed = standing.filter(isFailed).length;
  const counts = `${standing.length} of ${sitting.plan.runs.length} planned runs recorded, ${failed} failed${againText(runs)}`;
  const torn = tornBytes === 0 ? '' : `, ${tornBytes} bytes of an unfinished line ignored`;
  const seal = sealed ? ', sealed' : ', not sealed';
  return `${sitting.state}${causeText(sitting)}${seal}: ${counts}${torn}`;
}

/** Why an interrupted sitting ended, the last time it did. */
function causeText({ state, interruptions }: Sitting): string {
  const cause = interruptions.at(-1)?.cause;
  return state === 'interrupted' && cause !== undefined ? ` by ${cause}` : '';
}

/** Planned runs with more than one attempt. */
function againText(runs: readonly RunRecord[]): string {
  const again = new Set(supersededRuns(runs).map(({ plan }) => plan)).size;
  if (again === 0) return '';
  return `, ${again} ${again === 1 ? 'run was' : 'runs were'} tried again`;
}

function isFailed({ outcome }: RunRecord): boolean {
  return outcome === 'failed';
}
