import type { Comparison, ComparisonFlag } from '../../model/comparison.ts';

/** What each flag says below a comparison. README.md explains them at more length. */
export const comparisonFlagTexts: Readonly<Record<ComparisonFlag, string>> = {
  'repeats-only':
    'one sitting a side and no precision study: it speaks of these two sittings, not of the rigs',
  'single-sitting':
    'one side has a single sitting, taken to spread as the others do: nothing tells whether it does',
  confounded: 'more differs than was declared, so no single part can be named as the cause',
  'side-changed': 'a rig was not the same in all of its sittings',
  'revision-differs':
    'revisions of the suite or versions of programs differ; compared since --allow-revision says so',
  'baseline-drift':
    'the baseline moved between its first and its last sitting by more than the effect, so there is no verdict',
  'baseline-not-repeated':
    'the baseline was not measured again after the candidate, so a drift of the room or of the software would not show',
  'start-temperature': 'the runs of the two sides did not start equally warm',
  throttled: 'the processor was slowed by heat in some runs',
  'clock-fell-when-hot': 'the clock fell in the hotter runs',
  outliers: 'some runs lie far from the others; they count, none was dropped',
  trend: 'the repeats of a sitting rise or fall in their order',
  'failed-runs': 'some runs failed and have no figure here',
  'disturbed-runs': 'something else went on in the rig during some runs; they count',
  'excluded-runs': 'runs that the operator excluded are left out',
  'exclusion-decides': 'with the excluded runs the verdict would be another one',
  adaptive:
    'repeats ended once the interval was narrow enough, so the interval runs a little short of its confidence',
  'cut-short': 'the time of a sitting was over before its runs were',
  bound: 'some runs gave only an upper bound',
  'zero-values': 'a figure is zero or negative, so there is no ratio',
  'one-value': 'a side has a single value: no interval',
  'no-spread': 'all values of a side are equal, so nothing tells how sure the difference is',
  'too-small-to-matter': 'the difference is real, and smaller than what matters',
  'different-meters': 'the sides were metered in different ways',
  'unequal-variance': 'the rigs do not spread alike, so each side counts with its own spread',
  'pooling-decides':
    'sure only if all rigs spread alike; by the spread of the two sides alone the verdict would be another one',
  'invented-data': 'the figures are invented, for demonstration',
};

/** The flags raised anywhere in a comparison, in their usual order, each with what it says. */
export function raisedFlags({ rows, overall, flags }: Comparison): readonly string[] {
  const raised = new Set<string>([...flags, ...[...rows, ...overall].flatMap((row) => row.flags)]);
  return Object.entries(comparisonFlagTexts).flatMap(([flag, text]) =>
    raised.has(flag) ? [`${flag}: ${text}`] : [],
  );
}
