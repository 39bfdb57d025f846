import type { QualityKind } from '../../model/report.ts';

/** Heading of each kind of note. */
export const qualityTitles: Readonly<Record<QualityKind, string>> = {
  confounding: 'Differs undeclared',
  'baseline-drift': 'Drift of the baseline',
  limits: 'How far the verdicts go',
  'changes-within-a-rig': 'Not the same in all sittings of a rig',
  'accepted-changes': 'Unexpected, and accepted',
  throttling: 'Heat',
  'failed-runs': 'Failed runs',
  exclusions: 'Excluded runs',
  corrections: 'Figures that were corrected',
  outliers: 'Outliers',
  trend: 'Trends within a sitting',
  disturbances: 'Disturbances',
  'left-out': 'Left out, or not comparable',
  'open-sittings': 'Sittings that take no part',
  preflight: 'Before and between the runs',
  seals: 'Seals',
};
