/**
 * steadyrig as a library: load a suite, run a sitting, read a result folder, summarise it.
 *
 * @example
 * const loaded = await openSuite('suites/first-light.yaml');
 * if (!loaded.ok) throw new Error(loaded.error.map(formatProblem).join('\n'));
 * const measured = await runSitting(loaded.value, { rig: 'bench-a' });
 * if (measured.ok) console.log(summarizeSitting(loaded.value.suite, measured.value.runs));
 */
export { lookAtCampaignRig } from './api/campaign/look-at-rig.ts';
export { checkCampaign } from './api/check-campaign.ts';
export { checkRig } from './api/check-rig.ts';
export { suiteWriters } from './api/check-writers.ts';
export {
  type CompareOptions,
  type ComparisonOutcome,
  compareSittings,
} from './api/compare-sittings.ts';
export { suiteOfSitting, whySuiteFile } from './api/continue/suite-to-continue.ts';
export { type ContinueOptions, continueSitting } from './api/continue-sitting.ts';
export { type DetectionOutcome, detectDifference } from './api/detect-difference.ts';
export {
  type EntryOptions,
  type EntryOutcome,
  enterFigures,
  type FigureSource,
} from './api/enter-figures.ts';
export { type ExclusionOutcome, excludeRun } from './api/exclude-run.ts';
export { type Export, exportFigures, type FigureFormat } from './api/export-figures.ts';
export { type FileKind, fileSchema } from './api/file-schema.ts';
export {
  type EffectsOptions,
  type EffectsOutcome,
  effectsOfCampaign,
  effectsOfRigs,
} from './api/find-effects.ts';
export { findSuite } from './api/find-suite.ts';
export { type FollowedCampaign, followCampaign } from './api/follow-campaign.ts';
export { checkMachine } from './api/gate/check-machine.ts';
export { openBaseline } from './api/gate/open-baseline.ts';
export {
  type GateFailure,
  type GateSettings,
  type GateSides,
  type MeasureSide,
  runGate,
} from './api/gate/run-gate.ts';
export { setBaseline } from './api/gate/set-baseline.ts';
export { type HistoryOptions, historyOf } from './api/history-of.ts';
export { type ImportOptions, type ImportOutcome, importFigures } from './api/import-figures.ts';
export { inventory } from './api/inventory.ts';
export {
  type AgainstOptions,
  type AgainstOutcome,
  inventoryAgainst,
} from './api/inventory-against.ts';
export { isCampaign } from './api/is-campaign.ts';
export { EndWatcher, type SittingEnd, type SittingSubject } from './api/notice/end-watcher.ts';
export { openCampaign } from './api/open-campaign.ts';
export { openRuns } from './api/open-runs.ts';
export { openSuite } from './api/open-suite.ts';
export type { SittingOptions } from './api/options.ts';
export { type QueryOptions, type QueryOutcome, queryRuns } from './api/query/query-runs.ts';
export { findRepeatSubject, judgeRepeated, type RepeatSubject } from './api/repeat-workload.ts';
export {
  gatherReport,
  type ReportOptions,
  type ReportOutcome,
} from './api/report/gather-report.ts';
export { makePage } from './api/report/make-page.ts';
export {
  type Published,
  type PublishOptions,
  publishReport,
} from './api/report/publish/publish-report.ts';
export { type ChartOptions, writeCharts } from './api/report/write-charts.ts';
export { runSitting, type SittingOutcome } from './api/run-sitting.ts';
export { type SensorsNow, sensors } from './api/sensors.ts';
export { continueAtBoot } from './api/service/continue-at-boot.ts';
export type { Refusal } from './api/sitting/refusal.ts';
export { type StudyOptions, type StudyOutcome, studyRig } from './api/study-rig.ts';
export { type StoredSummary, summarizeStored } from './api/summarize-stored.ts';
export { type EndTargets, tellEnd } from './api/tell-end.ts';
export { toolVersion } from './api/version.ts';
export { type SittingWatch, type WatchOptions, watchSitting } from './api/watch-sitting.ts';
export { type WorthOptions, weighRigs } from './api/weigh-rigs.ts';
export { writeHistoryChart } from './api/write-history-chart.ts';
export type { Result } from './lib/result.ts';
export type { Comparison, ComparisonRow } from './model/comparison.ts';
export type { Detection } from './model/detection.ts';
export type { Effects, FactorEffect } from './model/effects.ts';
export type { SittingEvent } from './model/event.ts';
export type { Exclusion } from './model/exclusion.ts';
export type { Finding } from './model/finding.ts';
export type { History, HistorySeries } from './model/history.ts';
export type { Inventory } from './model/inventory.ts';
export type { InventoryDifferences } from './model/inventory-differences.ts';
export type { Plan, PlannedRun } from './model/plan.ts';
export type { PrecisionRow, PrecisionStudy } from './model/precision.ts';
export { formatProblem, type Problem } from './model/problem.ts';
export type { Report } from './model/report.ts';
export type { Correction, MetricValue, RunRecord } from './model/run.ts';
export type { SealReport } from './model/seal-report.ts';
export type { Sitting } from './model/sitting.ts';
export type { Suite } from './model/suite.ts';
export type { SittingSummary, SummaryRow } from './model/summary.ts';
export type { WatchSnapshot } from './model/watch.ts';
export type { Worth } from './model/worth.ts';
export { estimateSeconds } from './plan/estimate.ts';
export { makePlan } from './plan/make-plan.ts';
export { findUser, type OtherUser } from './prepare/find-user.ts';
export { listSittings, type SittingList } from './results/list-sittings.ts';
export { type Exclusions, readExclusions } from './results/read-exclusions.ts';
export { readSitting, type StoredSitting } from './results/read-sitting.ts';
export { readStudies, type StudyList } from './results/read-studies.ts';
export { verifySeal } from './results/verify.ts';
export type { Operator } from './runner/by-hand/operator.ts';
export { StopControl } from './runner/stop-control.ts';
export { summarizeSitting } from './stats/summarize-sitting.ts';
export type { LoadedSuite } from './suite/load.ts';
