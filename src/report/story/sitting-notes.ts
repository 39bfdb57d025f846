import type { QualityKind, QualityNote } from '../../model/report.ts';
import type { RunRecord } from '../../model/run.ts';
import { standingRuns } from '../../model/standing-runs.ts';
import { correctionTexts } from '../correction-lines.ts';
import type { StorySitting } from './story-facts.ts';

/** What was odd about a sitting itself, whoever it is compared with. */
export function sittingNotes({
  rig,
  sitting,
  runs,
  corrections,
  isSealed,
  isSealChecked,
}: StorySitting): readonly QualityNote[] {
  const where = `${rig}, ${sitting.id}`;
  const tell = (kind: QualityKind, text: string): QualityNote => ({ kind, subject: where, text });
  const repeats = runs.filter(({ phase }) => phase === 'repeat');
  const failed = repeats.flatMap(({ workload, failure }) =>
    failure === null ? [] : [`${workload}: ${failure.code}`],
  );
  const counting = standingRuns(repeats, []).filter(({ outcome }) => outcome === 'ok');
  const throttled = counting.filter(isSlowed).map(({ workload }) => workload);
  const disturbed = counting.flatMap(({ disturbances }) => disturbances.map(({ code }) => code));
  return [
    ...(failed.length > 0 ? [tell('failed-runs', `failed attempts: ${counted(failed)}`)] : []),
    ...(throttled.length > 0
      ? [tell('throttling', `slowed by heat in repeats of ${counted(throttled)}`)]
      : []),
    ...(disturbed.length > 0
      ? [tell('disturbances', `beside repeats that count: ${counted(disturbed)}`)]
      : []),
    ...correctionTexts(sitting.suite.resolved, runs, corrections).map((text) =>
      tell('corrections', text),
    ),
    ...(sitting.campaign?.accepted ?? []).map(({ path, from, to, reason }) =>
      tell(
        'accepted-changes',
        `${path} is ${to ?? 'absent'}, not ${from ?? 'absent'}; accepted: ${reason}`,
      ),
    ),
    ...sitting.leftOut.map(({ workload, reason }) => tell('left-out', `${workload}: ${reason}`)),
    ...sitting.findings
      .filter(({ severity }) => severity !== 'note')
      .map(({ check, message }) => tell('preflight', `${check}: ${message}`)),
    ...(sitting.interruptions.length > 0
      ? [
          tell(
            'preflight',
            `interrupted and continued: ${counted(sitting.interruptions.map(({ cause }) => cause))}`,
          ),
        ]
      : []),
    ...(isSealed
      ? isSealChecked
        ? []
        : [tell('seals', 'sealed, but not compared with its seal for this report')]
      : [tell('seals', 'not sealed: nothing tells whether it changed since')]),
  ];
}

function isSlowed({ telemetry }: RunRecord): boolean {
  return (telemetry?.throttleEvents ?? 0) > 0 || (telemetry?.throttleSeconds ?? 0) > 0;
}

/** `pack: time-limit (2), render: wrong-output`. */
function counted(texts: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
  return [...counts].map(([text, count]) => (count === 1 ? text : `${text} (${count})`)).join(', ');
}
