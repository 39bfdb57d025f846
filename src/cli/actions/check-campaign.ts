import { checkCampaign } from '../../api/check-campaign.ts';
import { openCampaign } from '../../api/open-campaign.ts';
import type { Problem } from '../../model/problem.ts';
import { renderDesign } from '../../report/design-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

interface CampaignFlags {
  readonly profile?: string;
  readonly results: string;
  readonly json?: true;
}

/** `check` of a campaign file: whether its rigs can answer its questions. */
export async function checkCampaignFile(path: string, flags: CampaignFlags): Promise<ExitCode> {
  if (flags.profile !== undefined) {
    printError('option --profile: a campaign names the profile of its suite itself, as `profile:`');
    return exitCodes.badInput;
  }
  const opened = await openCampaign(path);
  if (!opened.ok) return refuse(path, opened.error, flags);
  const checked = await checkCampaign(opened.value, flags.results);
  if (!checked.ok) return refuse(path, [checked.error], flags);
  const { check, problems } = checked.value;
  if (flags.json) printJson({ campaign: path, problems, check });
  else {
    printProblems(problems);
    print(`${path}: no problems in the campaign\n\n${renderDesign(check)}`);
  }
  const isUnanswerable = check.answers.some(({ answer }) => answer === 'no');
  return isUnanswerable ? exitCodes.failed : exitCodes.fine;
}

function refuse(campaign: string, problems: readonly Problem[], { json }: CampaignFlags): ExitCode {
  if (json) printJson({ campaign, problems, check: null });
  else printProblems(problems);
  return exitCodes.badInput;
}
