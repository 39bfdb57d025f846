import type { CampaignRig } from '../../model/campaign.ts';
import type { DesignAnswer, DesignFinding } from '../../model/design.ts';
import { type Geometry, isSeparable, type Term } from './geometry.ts';
import { rolesThatDiffer } from './parts-of-rigs.ts';
import type { Setting } from './setting.ts';
import { listed } from './wording.ts';

/** Whether a difference of a rig from the baseline has one cause; that they differ can be shown in any case. */
export function judgeRig(
  rig: CampaignRig,
  setting: Setting,
): Pick<DesignAnswer, 'answer' | 'findings'> {
  const { campaign, baseline } = setting;
  const factors = campaign.factors
    .map(({ id }) => id)
    .filter((id) => rig.levels[id] !== baseline.levels[id]);
  const roles = rolesThatDiffer(rig, baseline, campaign);
  const findings = [
    ...(factors.length > 1 ? [severalFactors(rig, factors, setting)] : []),
    ...(roles.length > factors.length ? [undeclared(rig, factors, roles)] : []),
  ];
  return { answer: 'yes', findings };
}

function severalFactors(
  { label }: CampaignRig,
  factors: readonly string[],
  setting: Setting,
): DesignFinding {
  const { geometry } = setting;
  const terms = factors.map((factor) => [factor]);
  const message = `${label} differs from the baseline in ${listed(factors)} at once`;
  if (areSeparable(terms, geometry)) {
    const told = `${message}; which of them does it, the effects of the factors tell over all rigs, not this pair`;
    return {
      code: 'several-factors',
      severity: 'note',
      message: told,
      remedy: null,
      addition: null,
    };
  }
  const found = setting.findAddition(
    (wider) => areSeparable(terms, wider),
    (wider) => terms.filter((term) => isSeparable(term, wider.mains, wider)).length,
  );
  const untold = `${message}, and no other rig tells which of them does it: none can be named as the cause`;
  return {
    code: 'several-factors',
    severity: 'warn',
    message: untold,
    ...(found ?? { remedy: 'add rigs that change one factor at a time', addition: null }),
  };
}

function areSeparable(terms: readonly Term[], geometry: Geometry): boolean {
  return terms.every((term) => isSeparable(term, geometry.mains, geometry));
}

function undeclared(
  { label }: CampaignRig,
  factors: readonly string[],
  roles: readonly string[],
): DesignFinding {
  const but =
    factors.length === 0
      ? 'and no factor says so'
      : `but in the level${factors.length === 1 ? '' : 's'} of ${listed(factors)} only`;
  return {
    code: 'undeclared-parts',
    severity: 'warn',
    message: `${label} differs from the baseline in its ${listed(roles)}, ${but}: what is found is of all these parts together`,
    remedy:
      'build both from the same parts but one, name a factor for each that differs, or say `affects: nothing` of what does not matter',
    addition: null,
  };
}
