import type { ComparisonFlag } from '../../model/comparison.ts';
import type { QualityKind, QualityNote } from '../../model/report.ts';
import { changeText, differenceText } from '../comparison/difference-lines.ts';
import { comparisonFlagTexts } from '../comparison/flag-texts.ts';
import { sittingNotes } from './sitting-notes.ts';
import type { StoryFacts } from './story-facts.ts';

/** Flags of rows that are told once for all figures that carry them. */
const flagKinds: readonly (readonly [ComparisonFlag, QualityKind])[] = [
  ['baseline-drift', 'baseline-drift'],
  ['baseline-not-repeated', 'baseline-drift'],
  ['outliers', 'outliers'],
  ['trend', 'trend'],
  ['clock-fell-when-hot', 'throttling'],
  ['start-temperature', 'throttling'],
  ['exclusion-decides', 'exclusions'],
];

/** Everything about the data that a reader should weigh, gravest kinds first. */
export function noteQuality(facts: StoryFacts): readonly QualityNote[] {
  const { comparison, notes } = facts;
  const found: QualityNote[] = [
    ...comparison.differences
      .filter(({ declared }) => !declared)
      .map((one) => note('confounding', one.candidate, differenceText(one))),
    ...comparison.changes.map((one) => note('changes-within-a-rig', one.label, changeText(one))),
    ...flagNotes(facts),
    ...exclusionNotes(facts),
    ...facts.sittings.flatMap(sittingNotes),
    ...comparison.unmatched.map(({ candidate, workload, reason }) =>
      note(
        'left-out',
        [candidate, workload].filter((part) => part !== null).join(', ') || null,
        reason,
      ),
    ),
    ...notes
      .filter((text) => text.startsWith('left out:'))
      .map((text) => note('open-sittings', null, text)),
  ];
  return order.flatMap((kind) => found.filter((one) => one.kind === kind));
}

const order: readonly QualityKind[] = [
  'confounding',
  'baseline-drift',
  'changes-within-a-rig',
  'accepted-changes',
  'throttling',
  'failed-runs',
  'exclusions',
  'outliers',
  'trend',
  'disturbances',
  'left-out',
  'open-sittings',
  'preflight',
  'seals',
];

function note(kind: QualityKind, subject: string | null, text: string): QualityNote {
  return { kind, subject, text };
}

function flagNotes({ comparison }: StoryFacts): readonly QualityNote[] {
  return flagKinds.flatMap(([flag, kind]) => {
    const rows = comparison.rows.filter(({ flags }) => flags.includes(flag));
    if (rows.length === 0) return [];
    const figures = [...new Set(rows.map(({ workload, metric }) => `${workload}: ${metric}`))];
    const shown = figures.slice(0, 8).join(', ');
    const more = figures.length > 8 ? ` and ${figures.length - 8} more` : '';
    return [note(kind, `${shown}${more}`, comparisonFlagTexts[flag])];
  });
}

function exclusionNotes({ metrics }: StoryFacts): readonly QualityNote[] {
  const found = new Map<string, QualityNote>();
  for (const { workload, rigs } of metrics)
    for (const { rig, runs } of rigs)
      for (const { sitting, repeat, excluded } of runs)
        if (excluded !== null) {
          const text = `repeat ${repeat} of ${workload} in ${sitting} is left out: ${excluded}`;
          found.set(text, note('exclusions', rig, text));
        }
  return [...found.values()];
}
