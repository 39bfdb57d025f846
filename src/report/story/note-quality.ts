import type { QualityKind, QualityNote } from '../../model/report.ts';
import { changedText, differenceText } from '../comparison/difference-lines.ts';
import { flagNotes } from './flag-notes.ts';
import { sittingNotes } from './sitting-notes.ts';
import type { StoryFacts } from './story-facts.ts';

/** Everything about the data that a reader should weigh, gravest kinds first. */
export function noteQuality(facts: StoryFacts): readonly QualityNote[] {
  const { comparison, notes } = facts;
  const found: QualityNote[] = [
    ...confoundingNotes(facts),
    ...comparison.changes.map((one) => note('changes-within-a-rig', one.label, changedText(one))),
    ...flagNotes(comparison),
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
      .filter((text) => /^(left out|without a finished sitting)\b/.test(text))
      .map((text) => note('open-sittings', null, text)),
  ];
  return order.flatMap((kind) => found.filter((one) => one.kind === kind));
}

const order: readonly QualityKind[] = [
  'confounding',
  'baseline-drift',
  'limits',
  'changes-within-a-rig',
  'accepted-changes',
  'throttling',
  'failed-runs',
  'exclusions',
  'corrections',
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

/** What several rigs have in common is told once. */
function confoundingNotes({ comparison }: StoryFacts): readonly QualityNote[] {
  const rigs = new Map<string, string[]>();
  for (const one of comparison.differences.filter(({ declared }) => !declared)) {
    const text = differenceText(one);
    rigs.set(text, [...(rigs.get(text) ?? []), one.candidate]);
  }
  return [...rigs].map(([text, labels]) => note('confounding', labels.join(', '), text));
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
