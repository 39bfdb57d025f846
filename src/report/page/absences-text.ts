import type { Report } from '../../model/report.ts';

/** Why parts that a reader may look for are not on the page, as a sentence; null where all are there. */
export function absencesText(
  { rigs, comparisons: [comparison] }: Report,
  sections: readonly string[],
): string | null {
  const single = comparison.overall.every(({ workloads }) => workloads < 2);
  const reasons: Readonly<Record<string, string>> = {
    index: single
      ? 'one index of all workloads (none or only one of them enters it)'
      : 'one index of all workloads (no ratios to take it of)',
    effects:
      rigs.length < 2
        ? 'what caused it (a single rig)'
        : 'what caused it (no factors are named, or these rigs cannot tell them apart)',
    worth: 'what it is worth (no prices are given)',
    courses: 'the course of the sittings (no sensor was sampled)',
  };
  const missing = Object.entries(reasons)
    .filter(([id]) => !sections.includes(id))
    .map(([, text]) => text);
  return missing.length === 0 ? null : `Not in this report: ${missing.join('; ')}.`;
}
