import { groupBy } from '../../lib/group-by.ts';
import type { CampaignRig } from '../../model/campaign.ts';
import type { DesignFinding } from '../../model/design.ts';
import { rolesThatDiffer } from './parts-of-rigs.ts';
import type { Setting } from './setting.ts';
import { cellText, listed, studyRemedy } from './wording.ts';

/** What stands in the way of a campaign as a whole, whatever it asks. */
export function checkWhole(setting: Setting): readonly DesignFinding[] {
  return [
    ...checkQuestions(setting),
    ...checkFactors(setting),
    ...checkCells(setting),
    ...checkSameRigs(setting),
    ...checkReturn(setting),
    ...checkAssemblies(setting),
    ...checkStudy(setting),
  ];
}

function checkQuestions({ campaign }: Setting): readonly DesignFinding[] {
  if (campaign.questions.length > 0) return [];
  const message = 'there is only the baseline, so nothing is compared';
  return [warn('no-question', message, 'add a rig')];
}

function checkFactors({ campaign, geometry }: Setting): readonly DesignFinding[] {
  return campaign.factors.flatMap(({ id, levels }) => {
    const unused = levels.filter((level) => !campaign.rigs.some((rig) => rig.levels[id] === level));
    if (!geometry.factors.some(({ name }) => name === id)) {
      const message = `every rig has the same level of ${id}, so it is no factor of this campaign`;
      const remedy = `add a rig with another level of ${id}, or take the factor out`;
      return [warn('one-level', message, remedy)];
    }
    if (unused.length === 0) return [];
    const message = `no rig has ${id} ${listed(unused)}, so nothing will be said of ${unused.length === 1 ? 'it' : 'them'}`;
    return [warn('unused-level', message, 'add a rig that has it, or take the level out')];
  });
}

function checkCells({ campaign, geometry }: Setting): readonly DesignFinding[] {
  const all = geometry.factors.reduce((product, { levels }) => product * levels.length, 1);
  const distinct = new Set(
    geometry.cells.map((cell) => JSON.stringify(geometry.factors.map(({ name }) => cell[name]))),
  ).size;
  if (geometry.factors.length < 2 || distinct >= all) return [];
  const three =
    geometry.factors.length > 2
      ? '; interactions of three or more factors are taken as nothing'
      : '';
  const message = `${distinct} of the ${all} combinations of levels are measured${three}`;
  const asksTerms = campaign.questions.some(({ kind }) => kind !== 'rig');
  return asksTerms ? [{ code: 'missing-cell', severity: 'note', message, ...nothing }] : [];
}

function checkSameRigs({ campaign }: Setting): readonly DesignFinding[] {
  const { factors, rigs } = campaign;
  const byLevels = groupBy(rigs, ({ levels }) =>
    JSON.stringify(factors.map(({ id }) => levels[id])),
  );
  return [...byLevels.values()].flatMap((group) => {
    const [first, ...others] = group as [CampaignRig, ...CampaignRig[]];
    return others.flatMap((other) => {
      const roles = rolesThatDiffer(first, other, campaign);
      const both = `${first.label} and ${other.label}`;
      if (roles.length === 0) {
        const message = `${both} have the same levels and parts: a difference between them shows what measuring and building do by themselves`;
        const remedy = 'use one label for both, unless that is what you want to know';
        return [warn('same-rig', message, remedy)];
      }
      // Where one is the baseline its question says it.
      if (
        factors.length === 0 ||
        other.label === campaign.baseline ||
        first.label === campaign.baseline
      )
        return [];
      const message = `${both} have the same levels (${cellText(first.levels, factors)}) but differ in their ${listed(roles)}`;
      const remedy = 'name a factor for what differs, or say `affects: nothing` of it';
      return [warn('undeclared-parts', message, remedy)];
    });
  });
}

function checkReturn({ campaign }: Setting): readonly DesignFinding[] {
  if (campaign.returnToBaseline || campaign.rigs.length < 2) return [];
  const message =
    'the baseline is not measured again at the end, so that what drifts meanwhile (room, updates, wear) looks like a difference of rigs';
  return [warn('no-return', message, 'say `return-to-baseline: true`: one swap and one sitting')];
}

function checkAssemblies({ campaign }: Setting): readonly DesignFinding[] {
  if (campaign.assemblies > 1 || campaign.rigs.length < 2) return [];
  const message =
    'each rig is built once: what building does by itself (seating, paste, cables) stays in its differences';
  const remedy =
    campaign.sittings > 1
      ? 'say `assemblies: 2`, which spreads the sittings of a rig over two buildings'
      : 'say `sittings: 2` and `assemblies: 2`';
  return [{ code: 'one-assembly', severity: 'note', message, remedy, addition: null }];
}

function checkStudy({ campaign, facts }: Setting): readonly DesignFinding[] {
  if (facts.study !== null) return [];
  const message =
    'there is no precision study of this suite, so whether these sittings can show the difference that matters is not known';
  const remedy = studyRemedy(campaign.baseline, facts.suite);
  return [{ code: 'no-study', severity: 'note', message, remedy, addition: null }];
}

const nothing = { remedy: null, addition: null } as const;

function warn(code: DesignFinding['code'], message: string, remedy: string): DesignFinding {
  return { code, severity: 'warn', message, remedy, addition: null };
}
