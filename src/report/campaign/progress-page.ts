import type { Campaign } from '../../model/campaign.ts';
import type {
  CampaignProgress,
  NextStep,
  OtherSitting,
  ProgressCell,
  ProgressRow,
} from '../../model/campaign-progress.ts';
import { renderTable, shorten, wrapText } from '../text-table.ts';
import { renderStep } from './step-lines.ts';

const width = 80;
const labelWidth = 24;

const words: Readonly<Record<ProgressCell['state'], string>> = {
  done: 'done',
  odd: 'odd',
  open: 'open',
  'to-do': 'to do',
};

/** Where the grid has more columns than words find room in. */
const marks: Readonly<Record<ProgressCell['state'], string>> = {
  done: 'D',
  odd: 'O',
  open: '/',
  'to-do': '.',
};
const legend = 'D done, O odd, / open, . to do';

/** Widest grid that words find room in, and the widest of marks. */
const mostWords = 7;
const mostMarks = 40;

/** Rigs by sittings, what is odd, and what comes next; 80 columns. */
export function renderProgress(
  campaign: Pick<Campaign, 'id' | 'title' | 'question' | 'invented'>,
  progress: CampaignProgress,
  step: NextStep,
): string {
  const { rows } = progress;
  const invented = campaign.invented ? ' (invented)' : '';
  const title = campaign.title.endsWith(invented) ? campaign.title : campaign.title + invented;
  return [
    wrapText(`${campaign.id}: ${title}`, width, '  '),
    wrapText(campaign.question, width, '  '),
    '',
    ...gridLines(rows),
    '',
    countsText(rows),
    ...rows.flatMap(oddLines),
    ...progress.others.map(otherLine),
    '',
    renderStep(step),
  ].join('\n');
}

function gridLines(rows: readonly ProgressRow[]): readonly string[] {
  const columns = Math.max(...rows.map(({ cells }) => cells.length));
  const label = ({ rig, isReturn }: ProgressRow): string =>
    isReturn ? `${shorten(rig, labelWidth - 6)} again` : shorten(rig, labelWidth);
  if (columns <= mostWords) {
    const titles = Array.from({ length: columns }, (_, at) => ({
      title: String(at + 1).padEnd(words['to-do'].length),
      align: 'left' as const,
    }));
    const cells = rows.map((row) => [label(row), ...row.cells.map(({ state }) => words[state])]);
    return renderTable([{ title: 'rig', align: 'left' }, ...titles], cells).split('\n');
  }
  const table = renderTable(
    [
      { title: 'rig', align: 'left' },
      { title: 'sittings', align: 'left' },
    ],
    rows.map((row) => [
      label(row),
      shorten(row.cells.map(({ state }) => marks[state]).join(''), mostMarks),
    ]),
  );
  return [...table.split('\n'), legend];
}

function countsText(rows: readonly ProgressRow[]): string {
  const cells = rows.flatMap((row) => row.cells);
  const count = (state: ProgressCell['state']): number =>
    cells.filter((cell) => cell.state === state).length;
  const measured = count('done') + count('odd');
  const wanted = measured + count('to-do') + cells.filter(isCurrent).length;
  return `${measured} of ${wanted} sittings measured, ${count('odd')} of them odd, ${count('open')} open`;
}

function isCurrent(cell: ProgressCell): boolean {
  return cell.state === 'open' && cell.isCurrent;
}

function oddLines({ rig, cells }: ProgressRow): readonly string[] {
  return cells.flatMap((cell) => {
    if (cell.state === 'odd') {
      const what = cell.oddities.map(({ code, message }) => `${message} [${code}]`).join('; ');
      return [wrapText(`! ${rig}, ${cell.sitting}: ${what}`, width, '  ')];
    }
    if (cell.state !== 'open' || cell.isCurrent) return [];
    const text = `left open: ${cell.sitting}: something was measured since, so it does not count`;
    return [wrapText(text, width, '  ')];
  });
}

const whyTexts: Readonly<Record<OtherSitting['why'], string>> = {
  again: 'repeats one workload only',
  'other-suite': 'is of another suite, revision or profile',
};

function otherLine({ sitting, why }: OtherSitting): string {
  return wrapText(`not counted: ${sitting} ${whyTexts[why]}`, width, '  ');
}
