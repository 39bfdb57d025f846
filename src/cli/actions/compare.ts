import { compareSittings } from '../../api/compare-sittings.ts';
import { renderComparisonMarkdown } from '../../report/comparison/comparison-markdown.ts';
import { renderComparison } from '../../report/comparison/comparison-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { indexPlace } from '../index-place.ts';
import { print, printError, printExactly, printJson, printProblems } from '../print.ts';

interface CompareFlags {
  readonly results: string;
  readonly suite?: string;
  readonly matters?: number;
  readonly confidence?: number;
  readonly weight?: Readonly<Record<string, number>>;
  readonly allowRevision?: true;
  readonly verify: boolean;
  readonly markdown?: true;
  readonly json?: true;
}

/** Status 0 whenever a comparison was made, whatever it says. */
export async function compare(
  baseline: string,
  candidates: readonly string[],
  { markdown, json, weight, ...options }: CompareFlags,
): Promise<ExitCode> {
  const compared = await compareSittings(baseline, candidates, {
    ...options,
    index: indexPlace(),
    ...(weight === undefined ? {} : { weights: weight }),
  });
  if (!compared.ok) {
    printProblems(compared.error);
    return exitCodes.badInput;
  }
  const { comparison, notes } = compared.value;
  for (const note of notes) printError(note);
  if (json) printJson(comparison);
  else if (markdown) printExactly(renderComparisonMarkdown(comparison));
  else print(renderComparison(comparison));
  return exitCodes.fine;
}
