import type {
  CampaignEffort,
  DesignAnswer,
  DesignCheck,
  DesignFinding,
  Sight,
} from '../model/design.ts';
import { formatDuration, formatPercent } from './quantity.ts';
import { wrapText } from './text-table.ts';

const width = 80;

/** Whether a campaign can be answered, question by question, and what it takes: a page of 80 columns. */
export function renderDesign(check: DesignCheck): string {
  const { title, invented, answers, findings, effort } = check;
  const head = wrapText(
    `${title}${invented && !/invented/i.test(title) ? ' (invented)' : ''}`,
    width,
  );
  return [
    head,
    '',
    ...answers.flatMap(answerLines),
    ...(findings.length === 0 ? [] : ['', 'the campaign as a whole']),
    ...findings.flatMap(findingLines),
    '',
    ...effortLines(effort),
    ...sightNote(check),
    '',
    verdictOf(answers, findings),
  ].join('\n');
}

const marks = { yes: 'can be answered', 'only-if': 'only if', no: 'cannot be answered' } as const;

function answerLines(answer: DesignAnswer): readonly string[] {
  const { asks, answer: can, findings, sight } = answer;
  return [
    wrapText(`${asks}: ${marks[can]}${sight === null ? '' : sightText(sight)}`, width, '  '),
    ...findings.flatMap(findingLines),
  ];
}

function sightText({ workload, metric, detectable }: Sight): string {
  return `; shows ${formatPercent(detectable)} or more (${workload} ${metric})`;
}

function findingLines({ severity, code, message, remedy, addition }: DesignFinding): string[] {
  const cost = addition === null ? '' : ` (about ${formatDuration(addition.seconds)} more)`;
  return [
    indented(`${severity} (${code}): ${message}`, '  '),
    ...(remedy === null ? [] : [indented(`→ ${remedy}${cost}`, '    ')]),
  ];
}

function indented(text: string, margin: string): string {
  return wrapText(text, width - margin.length, '  ').replaceAll(/^/gm, margin);
}

const bases = {
  measured: 'as the precision study took it',
  'partly-measured': 'partly as the precision study took it',
  assumed: 'with run times assumed, see `steadyrig plan`',
} as const;

function effortLines(effort: CampaignEffort): readonly string[] {
  const { rigs, sittings, swaps, seconds, sittingSeconds, basis, swapSeconds } = effort;
  const number = (count: number, what: string): string =>
    `${count} ${what}${count === 1 ? '' : 's'}`;
  const lines = [
    `${number(rigs, 'rig')}, ${number(sittings, 'sitting')}, ${number(swaps, 'swap')}: about ${formatDuration(seconds)}`,
    `A sitting counts ${formatDuration(sittingSeconds)}, ${bases[basis]}; a swap ${formatDuration(swapSeconds)} (\`swap-time\`).`,
  ];
  return lines.map((line) => wrapText(line, width, '  '));
}

function sightNote({ study }: DesignCheck): readonly string[] {
  if (study === null) return [];
  const text = `What can be seen is by the precision study of ${study.rig} (${study.at.slice(0, 10)}, ${study.sittings} sittings): four times out of five, at a level of 5 % for each figure looked at alone. A comparison of many figures asks more of each.`;
  return [wrapText(text, width, '  ')];
}

function verdictOf(answers: readonly DesignAnswer[], findings: readonly DesignFinding[]): string {
  const unanswered = answers.filter(({ answer }) => answer === 'no').length;
  const all = [...findings, ...answers.flatMap((answer) => answer.findings)];
  const warnings = all.filter(({ severity }) => severity === 'warn').length;
  const also = warnings === 0 ? '' : `, with ${warnings} warning${warnings === 1 ? '' : 's'}`;
  if (unanswered === 0)
    return `the rigs can answer ${answers.length === 1 ? 'the question' : 'every question'}${also}`;
  return `the rigs cannot answer ${unanswered} of ${answers.length} question${answers.length === 1 ? '' : 's'}${also}`;
}
