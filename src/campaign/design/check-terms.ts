import type { DesignAnswer, DesignFinding } from '../../model/design.ts';
import { termName } from '../../stats/factor-columns.ts';
import { madeUpOf, movedBy } from './aliases.ts';
import { designRank } from './design-rank.ts';
import {
  allTerms,
  columnsOf,
  type Geometry,
  isSameTerm,
  isSeparable,
  isVaried,
  meanColumn,
  type Term,
} from './geometry.ts';
import type { Setting } from './setting.ts';
import { listed, termsText } from './wording.ts';

type Judged = Pick<DesignAnswer, 'answer' | 'findings'>;

/**
 * Whether the rigs tell an effect or an interaction from all else. `no`: not from the mean and other main effects. `only-if`: from those,
 * but not from interactions of two factors, which then have to be nothing. Interactions of three or more factors are taken as nothing.
 */
export function judgeTerm(term: Term, setting: Setting): Judged {
  const { geometry } = setting;
  if (!isVaried(term, geometry)) return { answer: 'no', findings: [notVaried(term, setting)] };
  if (!isSeparable(term, geometry.mains, geometry))
    return { answer: 'no', findings: [confounded(term, setting)] };
  if (isSeparable(term, allTerms(geometry), geometry)) return { answer: 'yes', findings: [] };
  return { answer: 'only-if', findings: [rests(term, setting)] };
}

function notVaried(term: Term, setting: Setting): DesignFinding {
  const { campaign, geometry } = setting;
  const still = term.filter((name) => !isVaried([name], geometry));
  const single = campaign.factors.filter(
    ({ id, levels }) => still.includes(id) && levels.length === 1,
  );
  const message = `every rig has the same level of ${listed(still)}, so nothing can be said of ${still.length === 1 ? 'it' : 'them'}`;
  if (single.length > 0) {
    const names = listed(single.map(({ id }) => id));
    const remedy = `give ${names} a second level, and add a rig that has it`;
    return { code: 'one-level', severity: 'stop', message, remedy, addition: null };
  }
  return { code: 'one-level', severity: 'stop', message, ...remedyFor(term, mainsOf, setting) };
}

function confounded(term: Term, setting: Setting): DesignFinding {
  const { geometry } = setting;
  const partners = madeUpOf(term, geometry.mains, geometry);
  const empty = term.length === 2 ? emptyCells(term, geometry) : [];
  const why =
    empty.length === 0
      ? ''
      : `; no rig has ${listed(
          empty.map((cell) => cell.join(' with ')),
          4,
        )}`;
  const message = `these rigs cannot tell ${termsText([term])} from ${termsText(partners)}${why}`;
  const code = empty.length === 0 ? 'aliased' : 'missing-cell';
  return { code, severity: 'stop', message, ...remedyFor(term, mainsOf, setting) };
}

function rests(term: Term, setting: Setting): DesignFinding {
  const { geometry } = setting;
  const partners = movedBy(term, geometry.mains, geometry.pairs, geometry);
  const are = partners.length === 1 ? 'is' : 'are';
  const message = `${termsText([term])} is told from the other effects only if ${termsText(partners)} ${are} nothing`;
  return { code: 'aliased', severity: 'warn', message, ...remedyFor(term, allTerms, setting) };
}

/** Combinations of levels of two factors that no rig has. */
function emptyCells(term: Term, { factors, cells }: Geometry): readonly (readonly string[])[] {
  const [one, other] = term.map((name) => factors.find((factor) => factor.name === name));
  if (one === undefined || other === undefined) return [];
  return one.levels.flatMap((level) =>
    other.levels
      .filter((second) => !cells.some((c) => c[one.name] === level && c[other.name] === second))
      .map((second) => [`${one.name} ${level}`, `${other.name} ${second}`]),
  );
}

function mainsOf({ mains }: Geometry): readonly Term[] {
  return mains;
}

function remedyFor(
  term: Term,
  others: (geometry: Geometry) => readonly Term[],
  setting: Setting,
): Pick<DesignFinding, 'remedy' | 'addition'> {
  const found = setting.findAddition(
    (geometry) => isSeparable(term, others(geometry), geometry),
    (geometry) => separateParts(term, others(geometry), geometry),
  );
  if (found !== null) return found;
  const remedy = `ask for ${termName(term)} in a smaller design: fewer factors, and every combination of their levels`;
  return { remedy, addition: null };
}

/** Grows as rigs are added: parts of the term that are told from all else, and then the rank of the whole. */
function separateParts(term: Term, others: readonly Term[], geometry: Geometry): number {
  const beside = others.filter((other) => !isSameTerm(other, term));
  const rest = [meanColumn(geometry), ...columnsOf(beside, geometry)];
  const own = isVaried(term, geometry) ? columnsOf([term], geometry) : [];
  const whole = designRank([...rest, ...own]);
  return 1000 * (whole - designRank(rest)) + whole;
}
