import { type EffectsOptions, effectsOfCampaign, effectsOfRigs } from '../../api/find-effects.ts';
import { isCampaign } from '../../api/is-campaign.ts';
import { renderEffects } from '../../report/effects-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { indexPlace } from '../index-place.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

/** Status 0 whenever effects could be computed, whatever they say. */
export async function effects(
  given: readonly string[],
  { json, ...flags }: EffectsOptions & { readonly json?: true },
): Promise<ExitCode> {
  const options = { ...flags, index: indexPlace() };
  const [first = '', ...others] = given;
  const isFile = others.length === 0 && (/\.ya?ml$/i.test(first) || (await isCampaign(first)));
  const found = await (isFile ? effectsOfCampaign(first, options) : effectsOfRigs(given, options));
  if (!found.ok) {
    printProblems(found.error);
    return exitCodes.badInput;
  }
  for (const note of found.value.notes) printError(note);
  if (json) printJson(found.value.effects);
  else print(renderEffects(found.value.effects));
  return exitCodes.fine;
}
