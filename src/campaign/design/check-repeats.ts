import type { DesignAnswer, DesignFinding } from '../../model/design.ts';
import { designRank } from './design-rank.ts';
import { allTerms, columnsOf, meanColumn } from './geometry.ts';
import type { Setting } from './setting.ts';
import { studyRemedy } from './wording.ts';

type Judged = Pick<DesignAnswer, 'answer' | 'findings'>;

/** What one sitting of each rig can and cannot say; as judged where there are more. */
export function judgeRepeats(judged: Judged, kind: 'rig' | 'term', setting: Setting): Judged {
  const { campaign, facts } = setting;
  if (campaign.sittings > 1 || judged.answer === 'no') return judged;
  const findings = (severity: DesignFinding['severity'], message: string): Judged['findings'] => [
    ...judged.findings,
    { code: 'no-repeats', severity, message, remedy: remedyFor(setting), addition: null },
  ];
  if (facts.study !== null) {
    const message = 'each rig has one sitting: what is found rests on the precision study alone';
    return { ...judged, findings: findings('note', message) };
  }
  if (kind === 'term' && leftOver(setting) > 0) {
    const message =
      'each rig has one sitting: how far sittings lie apart is told only if interactions of three or more factors are nothing (`steadyrig effects --order 2`)';
    return { answer: 'only-if', findings: findings('warn', message) };
  }
  const message =
    'each rig has one sitting and there is no precision study: how far sittings of one rig lie apart is not known, so no difference between rigs can be shown';
  return { answer: 'no', findings: findings('stop', message) };
}

/** Rigs beyond what effects and interactions of two factors use up. */
function leftOver({ geometry }: Setting): number {
  const columns = [meanColumn(geometry), ...columnsOf(allTerms(geometry), geometry)];
  return geometry.cells.length - designRank(columns);
}

function remedyFor({ campaign, facts }: Setting): string {
  const study = studyRemedy(campaign.baseline, facts.suite);
  return `raise \`sittings\` to 2 or more, or make a precision study: ${study}`;
}
