import { followCampaign } from '../../api/follow-campaign.ts';
import { renderProgress } from '../../report/campaign/progress-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printJson, printProblems } from '../print.ts';

interface ProgressFlags {
  readonly results: string;
  readonly json?: true;
}

/** Status 1 where a folder could not be read: it is not in the picture. */
export async function progress(file: string, { results, json }: ProgressFlags): Promise<ExitCode> {
  const followed = await followCampaign(file, results);
  if (!followed.ok) {
    printProblems(followed.error);
    return exitCodes.badInput;
  }
  const { campaign, progress: found, step, problems } = followed.value;
  if (json) printJson({ ...found, step, invented: campaign.invented, problems });
  else {
    print(renderProgress(campaign, found, step));
    printProblems(problems);
  }
  return problems.length === 0 ? exitCodes.fine : exitCodes.failed;
}
