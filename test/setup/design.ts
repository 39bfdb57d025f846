import type { DesignFacts } from '../../src/campaign/design/setting.ts';
import { parseCampaign } from '../../src/campaign/parse-campaign.ts';
import type { Campaign, Question } from '../../src/model/campaign.ts';
import { unwrap } from './unwrap.ts';

/** Without a precision study; a sitting takes a minute. */
export const plainFacts: DesignFacts = {
  suite: 'everyday',
  sitting: { seconds: 60, basis: 'assumed' },
  study: null,
};

/** An invented campaign of factors `a`, `b` …, with as many rigs as rows; `-` and `+` (or digits) are the levels, the first row the baseline. */
export function campaignOfRows(
  rows: readonly string[],
  questions: readonly Question[] = [],
  more: Readonly<Record<string, unknown>> = {},
): Campaign {
  const names = [...'abcdefgh'].slice(0, rows[0]?.length);
  const used = (at: number): string[] => [...new Set(rows.map((row) => row[at] ?? ''))].sort();
  const levels = (row: string): object =>
    Object.fromEntries(names.map((name, at) => [name, row[at]]));
  const written = {
    ...{ campaign: 'harbour', title: 'Harbour (invented)', question: 'Which?', suite: 'everyday' },
    ...{ baseline: 'rig-0', sittings: 3, assemblies: 2 },
    factors: Object.fromEntries(
      names.map((name, at) => [
        name,
        { title: name, levels: [...new Set(['-', '+', ...used(at)])] },
      ]),
    ),
    rigs: Object.fromEntries(rows.map((row, at) => [`rig-${at}`, { levels: levels(row) }])),
    ...(questions.length === 0 ? {} : { questions: questions.map(writtenQuestion) }),
    ...more,
  };
  return unwrap(parseCampaign(JSON.stringify(written), 'campaign.yaml')).campaign;
}

function writtenQuestion(question: Question): object {
  switch (question.kind) {
    case 'rig':
      return { rig: question.rig };
    case 'effect':
      return { effect: question.factor };
    case 'interaction':
      return { interaction: question.factors };
  }
}

/** Every combination of `count` two-level factors, the first one fastest. */
export function fullFactorial(count: number): readonly string[] {
  return Array.from({ length: 2 ** count }, (_, run) =>
    Array.from({ length: count }, (_, factor) => ((run >> factor) & 1 ? '+' : '-')).join(''),
  );
}
