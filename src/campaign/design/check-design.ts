import type { Campaign, Question } from '../../model/campaign.ts';
import type { DesignAnswer, DesignCheck, DesignFinding, Sight } from '../../model/design.ts';
import { judgeRepeats } from './check-repeats.ts';
import { judgeRig } from './check-rig.ts';
import { judgeTerm } from './check-terms.ts';
import { checkWhole } from './check-whole.ts';
import { effortOf } from './effort.ts';
import { allTerms, type Term } from './geometry.ts';
import { type DesignFacts, type Setting, settingOf } from './setting.ts';
import { errorOfPair, errorOfTerm, sightOf } from './sight.ts';
import { asksOf } from './wording.ts';

/**
 * Whether the rigs of a campaign can answer each of its questions, what stands in the way with the cheapest addition that mends it, what
 * measuring takes, and with a precision study whether the difference that matters can be seen. Nothing is measured or read here.
 */
export function checkDesign(campaign: Campaign, facts: DesignFacts): DesignCheck {
  const setting = settingOf(campaign, facts);
  const { study } = facts;
  return {
    campaign: campaign.id,
    title: campaign.title,
    invented: campaign.invented,
    answers: campaign.questions.map((question) => answerOf(question, setting)),
    findings: checkWhole(setting),
    effort: effortOf(campaign, facts.sitting),
    study: study === null ? null : { rig: study.rig, at: study.at, sittings: study.sittings },
  };
}

function answerOf(question: Question, setting: Setting): DesignAnswer {
  const designed = question.kind === 'rig' ? rigNamed(question.rig, setting) : null;
  const judged =
    designed === null
      ? judgeRepeats(judgeTerm(termOf(question), setting), 'term', setting)
      : judgeRepeats(judgeRig(designed, setting), 'rig', setting);
  const sight = judged.answer === 'no' ? null : sightFor(question, judged.answer, setting);
  return {
    question,
    asks: asksOf(question),
    answer: judged.answer,
    findings: [...judged.findings, ...unseen(sight, setting)],
    sight,
  };
}

function rigNamed(label: string, { campaign }: Setting): Campaign['rigs'][number] {
  const found = campaign.rigs.find((rig) => rig.label === label);
  if (found === undefined) throw new Error(`internal error: no rig ${label}`);
  return found;
}

function termOf(question: Question): Term {
  if (question.kind === 'effect') return [question.factor];
  return question.kind === 'interaction' ? question.factors : [];
}

function sightFor(
  question: Question,
  answer: DesignAnswer['answer'],
  { campaign, facts, geometry }: Setting,
): Sight | null {
  if (facts.study === null) return null;
  const beside = answer === 'yes' ? allTerms(geometry) : geometry.mains;
  const unitError =
    question.kind === 'rig' ? errorOfPair : errorOfTerm(termOf(question), beside, geometry);
  const { sittings, rigs, differenceThatMatters } = campaign;
  return sightOf(facts.study.rows, unitError, {
    rigs: rigs.length,
    sittings,
    differenceThatMatters,
  });
}

function unseen(sight: Sight | null, { campaign }: Setting): readonly DesignFinding[] {
  if (sight === null || sight.power >= 0.8) return [];
  const { workload, metric, power, detectable, sittingsNeeded } = sight;
  const matters = percentText(campaign.differenceThatMatters);
  const message = `with ${campaign.sittings} sitting${campaign.sittings === 1 ? '' : 's'} of each rig a difference of ${matters} in ${workload} ${metric} is found with a chance of ${Math.round(power * 100)} %; the smallest found four times out of five is ${percentText(detectable)}`;
  const remedy =
    sittingsNeeded === null
      ? 'make the sittings themselves more alike (more repeats, a quieter rig), or ask for a larger difference: 100 sittings do not do'
      : `measure ${sittingsNeeded} sittings of each rig (\`sittings: ${sittingsNeeded}\`)`;
  return [{ code: 'unseen', severity: 'warn', message, remedy, addition: null }];
}

/** Two digits, as in "2.5 %". */
function percentText(fraction: number): string {
  return `${Number((fraction * 100).toPrecision(2))} %`;
}
