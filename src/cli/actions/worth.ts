import { weighRigs } from '../../api/weigh-rigs.ts';
import { renderWorth } from '../../report/worth-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { indexPlace } from '../index-place.ts';
import { print, printJson, printProblems } from '../print.ts';

interface WorthFlags {
  readonly results: string;
  readonly verify: boolean;
  readonly json?: true;
}

/** Status 0 whenever the campaign could be weighed, whatever it says. */
export async function worth(file: string, { json, ...options }: WorthFlags): Promise<ExitCode> {
  const weighed = await weighRigs(file, { ...options, index: indexPlace() });
  if (!weighed.ok) {
    printProblems(weighed.error);
    return exitCodes.badInput;
  }
  if (json) printJson(weighed.value);
  else print(renderWorth(weighed.value));
  return exitCodes.fine;
}
