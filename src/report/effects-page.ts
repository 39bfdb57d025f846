import type {
  EffectBasis,
  Effects,
  FactorEffect,
  MetricEffects,
  Separation,
} from '../model/effects.ts';
import { changeLines, differenceText } from './comparison/difference-lines.ts';
import { comparisonFlagTexts } from './comparison/flag-texts.ts';
import { plainText } from './comparison/plain-text.ts';
import { intervalText, pText, ratioText } from './comparison/ratio-text.ts';
import { percent } from './comparison/row-lines.ts';
import { unmatchedLines } from './comparison/unmatched-lines.ts';
import { labelledLines } from './labelled-lines.ts';
import { type Column, renderTable, shorten } from './text-table.ts';

const width = 80;
const shownDifferences = 12;

/** What factors do, metric by metric, as a page of 80 columns: sentences first, then figures, then what limits them. */
export function renderEffects(effects: Effects): string {
  return [
    ...(effects.flags.includes('invented-data') ? ['INVENTED DATA, for demonstration', ''] : []),
    ...headLines(effects),
    ...effects.metrics.flatMap((metric) => ['', ...metricLines(metric, effects)]),
    ...(effects.metrics.length === 0 ? ['', 'No figure was measured alike on two rigs.'] : []),
    ...separationLines(effects),
    ...confounderLines(effects),
    ...spaced(changeLines(effects.changes, width)),
    ...spaced(unmatchedLines(effects.unmatched, width)),
    ...spaced(flagLines(effects)),
    '',
    ...lines(legend, ''),
  ].join('\n');
}

const legend =
  'Ratios above 1: the level named is better than the first one, whichever way the figure counts. Effects are averages over the levels of the other factors; of an interaction, half the difference of what one factor does at both levels of the other. The p values are adjusted over all effects of all figures (Holm), intervals stand for one effect each. What is measured is the rigs as they were built: one assembly may stand for more than its parts.';

const nothingElse = 'Nothing undeclared differs between these rigs, as far as the inventory sees';
const soCause = ': what is shown and not mixed is because of its factor';

const basisTexts: Readonly<Record<EffectBasis, string>> = {
  sittings: 'spread of repeated sittings, pooled within rigs',
  'precision-study': 'a precision study tells how far single sittings lie apart',
  'left-out': 'interactions left out, taken to be nothing, stand for the error',
  none: 'one sitting a rig and no precision study: nothing tells what is chance',
};

function headLines({ factors, constant, rigs, confidence, matters, order }: Effects): string[] {
  const sittings = rigs.reduce((sum, rig) => sum + rig.sittings.length, 0);
  const design = `${factors.map(({ levels }) => levels.length).join(' × ')} levels, ${rigs.length} rigs, ${sittings} sittings; interactions of up to ${order} ${order === 1 ? 'factor' : 'factors'}`;
  const numbers = `${percent(confidence)} intervals; differences below ${percent(matters)} do not matter`;
  return [
    ...lines(
      order === 1 ? design.replace(/; interactions.*/, '; main effects only') : design,
      'design   ',
    ),
    ...factors.flatMap(({ title, levels }) => lines(`${title}: ${levels.join(', ')}`, '         ')),
    ...(constant.length === 0
      ? []
      : lines(
          `the same in all rigs, so nothing can be said of: ${constant.join(', ')}`,
          '         ',
        )),
    ...lines(numbers, 'numbers  '),
  ];
}

const columns: readonly Column[] = [
  { title: 'effect', align: 'left' },
  { title: 'ratio', align: 'right' },
  { title: 'interval', align: 'right' },
  { title: 'adj. p', align: 'right' },
];

function metricLines(metric: MetricEffects, { factors }: Effects): string[] {
  const { workload, basis, spread, df } = metric;
  const error =
    spread === null || df === null
      ? basisTexts[basis]
      : `${basisTexts[basis]}: ${(spread * 100).toPrecision(2)} %, ${Number(df.toFixed(1))} degrees of freedom`;
  const titles = new Map(factors.map(({ id, title }) => [id, title]));
  return [
    ...lines(`${workload}: ${metric.metric}`, ''),
    ...metric.effects.flatMap(({ sentence, finding }) => lines(sentence, `  ${signs[finding]} `)),
    ...lines(`(${error}${metric.flags.length === 0 ? '' : `; ${metric.flags.join(', ')}`})`, '  '),
    ...renderTable(
      columns,
      metric.effects.flatMap((effect) => rowsOf(effect, titles)),
    )
      .split('\n')
      .map((line) => `  ${line}`),
  ];
}

const signs: Readonly<Record<FactorEffect['finding'], string>> = {
  shown: '*',
  alike: '=',
  open: '?',
  voided: '!',
  untested: '?',
  untold: '!',
};

function rowsOf(effect: FactorEffect, titles: ReadonlyMap<string, string>): string[][] {
  const name = effect.factors.map((id) => titles.get(id) ?? id).join(' × ');
  const mixed = effect.mixedWith.length === 0 ? '' : ' (mixed)';
  if (effect.contrasts.length === 0) {
    return [[shorten(plainText(`${name}${mixed}`), 36), '–', '–', pText(effect.adjustedP)]];
  }
  return effect.contrasts.map((one) => [
    shorten(plainText(`${name}${one.to === null ? '' : `: ${one.to}`}${mixed}`), 36),
    ratioText(one),
    intervalText(one),
    pText(effect.adjustedP),
  ]);
}

function separationLines({ separate, factors }: Effects): string[] {
  if (separate.length === 0) return [];
  const rigText = (levels: Separation['add'][number]): string =>
    factors.map(({ id, title }) => `${title} ${levels[id]}`).join(', ');
  return [
    '',
    'what would tell apart what is mixed here:',
    ...separate.flatMap(({ mixed, add }) => {
      const shown = mixed.slice(0, 6).join(', ') + (mixed.length > 6 ? ', …' : '');
      const rigs = add.slice(0, 4).map(rigText).join('; ');
      const more = add.length > 4 ? `; and ${add.length - 4} more` : '';
      return lines(
        `${shown}: add ${add.length === 1 ? 'a rig' : `${add.length} rigs`} with ${rigs}${more}`,
        '  ',
      );
    }),
  ];
}

function confounderLines({ differences, metrics }: Effects): string[] {
  const undeclared = differences.filter(({ declared }) => !declared);
  const isShown = metrics.some(({ effects }) =>
    effects.some(({ finding, mixedWith }) => finding === 'shown' && mixedWith.length === 0),
  );
  if (undeclared.length === 0)
    return ['', ...lines(`${nothingElse}${isShown ? soCause : ''}.`, '')];
  const rest = undeclared.length - shownDifferences;
  return [
    '',
    ...lines(
      'Confounded: these differ from the first rig, and follow from no factor. Set them alike and measure again, or make them factors:',
      '',
    ),
    ...undeclared
      .slice(0, shownDifferences)
      .flatMap((one) => lines(`${one.candidate}, ${differenceText(one)}`, '  ')),
    ...(rest > 0 ? [`  and ${rest} more; --json lists all`] : []),
  ];
}

function flagLines({ flags, metrics }: Effects): string[] {
  const raised = new Set([...flags, ...metrics.flatMap((metric) => metric.flags)]);
  return [...raised].flatMap((flag) => lines(`${flag}: ${comparisonFlagTexts[flag]}`, '! '));
}

function spaced(found: readonly string[]): readonly string[] {
  return found.length === 0 ? [] : ['', ...found];
}

function lines(text: string, first: string): readonly string[] {
  return labelledLines(plainText(text), first, width);
}
