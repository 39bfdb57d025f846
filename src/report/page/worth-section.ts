import { groupBy } from '../../lib/group-by.ts';
import type { Build, Gain, RigWorth, Total, Worth } from '../../model/worth.ts';
import { intervalText, ratioText } from '../comparison/ratio-text.ts';
import { html, type Markup } from './html.ts';
import { paragraphs, renderTable, type Section } from './section.ts';

/** What each rig costs, what it gives for it, and which no other beats in both. */
export function worthSection(worth: Worth, chart: Markup | null): Section {
  const { parts, rates } = worth;
  const states = new Map(
    worth.frontier.filter(({ by }) => by === 'as-measured').map((row) => [row.rig, row]),
  );
  const table = renderTable({
    caption: 'Price and performance of each rig',
    columns: [
      { title: 'rig' },
      { title: 'price as measured', isNumber: true },
      { title: 'cheapest on paper', isLong: true },
      { title: 'index', isNumber: true },
      { title: 'per money', isNumber: true },
      { title: 'against the baseline', isLong: true },
      { title: 'beaten by another?' },
    ],
    rows: worth.rigs.map((rig) => {
      const row = states.get(rig.label);
      return [
        rig.label,
        totalText(rig.builds[0].value),
        cheapest(rig),
        rig.index === null ? 'not compared' : ratio(rig.index),
        rig.perMoney.asMeasured === null ? '' : ratio(rig.perMoney.asMeasured),
        rig.gain === null
          ? rig.label === worth.baseline
            ? 'baseline'
            : 'not compared'
          : gainText(rig.gain),
        row === undefined ? '' : stateText(row.state, row.others),
      ];
    }),
  });
  return {
    id: 'worth',
    title: 'What it is worth',
    body: html`${chart}${table}<p class="quiet">Only the price as measured is that of a machine that was measured; replacements on paper change the price alone. Prices are taken as exact. Per money, the baseline as measured is 1.</p>${paragraphs(worth.notes)}<details><summary>Parts, prices and rates</summary>${partsTable(parts)}${rates.length === 0 ? null : ratesTable(rates)}</details>${energyTable(worth.rigs)}`,
  };
}

function ratio({
  value,
  low,
  high,
}: {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
}): string {
  const row = { ratio: value, low, high };
  return low === null ? ratioText(row) : `${ratioText(row)} (${intervalText(row)})`;
}

function totalText({ together, currencies, missing }: Total): string {
  const each = currencies.map(({ amount, currency }) => `${amount} ${currency}`).join(' + ');
  const least = missing.length > 0 ? 'at least ' : '';
  if (together === null) return `${least}${each || 'no price'}`;
  const sum = `${together.amount} ${together.currency}`;
  return `${least}${currencies.length > 1 ? `${sum} (${each})` : sum}`;
}

function replacedText({ replaced }: Build): string {
  return replaced
    .map(({ part, by, pieces }) => `${pieces > 1 ? `${pieces} x ` : ''}${part} by ${by}`)
    .join(', ');
}

function cheapest({ builds }: RigWorth): string {
  const build = builds.find(({ kind }: Build) => kind === 'cheapest');
  if (build === undefined) return 'same';
  const replaced = replacedText(build);
  return `${totalText(build.value)}: ${replaced}`;
}

function gainText({ performance, price, difference, percent }: Gain): string {
  const money =
    price === 'same'
      ? 'same price'
      : `${difference.amount.replace(/^-/, '')} ${difference.currency} ${price}`;
  if (performance === 'not-shown') return `no gain shown, ${money}`;
  if (percent === null || percent.value === null) return `${performance}, ${money}`;
  const high = percent.high === null ? 'without bound' : percent.high.amount;
  return `${performance}, ${money}; ${percent.value.amount} ${percent.value.currency} a percent (${percent.low.amount} … ${high})`;
}

function stateText(state: string, others: readonly string[]): string {
  if (state === 'unbeaten') return 'no';
  if (state === 'beaten') return `yes: ${others.join(', ')}`;
  return state === 'open' ? `open: ${others.join(', ')}` : 'cannot be told';
}

function partsTable(parts: Worth['parts']): Markup {
  return renderTable({
    caption: 'Parts and where their prices come from',
    columns: [
      { title: 'part' },
      { title: 'role' },
      { title: 'price', isNumber: true },
      { title: 'date' },
      { title: 'source' },
      { title: 'remarks' },
      { title: 'in' },
    ],
    rows: parts.map(({ name, role, price, owned, affectsNothing, rigs }) => [
      name,
      role,
      price === null ? 'not known' : `${price.amount} ${price.currency}`,
      price?.date ?? '',
      price?.source ?? '',
      [owned ? 'owned already' : '', affectsNothing ? 'affects nothing' : '']
        .filter(Boolean)
        .join(', '),
      placesText(rigs) || 'none, an alternative on paper',
    ]),
  });
}

/** `first-8, second-8 (2)`. */
function placesText(rigs: readonly string[]): string {
  return [...groupBy(rigs, (label) => label)]
    .map(([label, { length }]) => (length > 1 ? `${label} (${length})` : label))
    .join(', ');
}

function ratesTable(rates: Worth['rates']): Markup {
  return renderTable({
    caption: 'Rates between currencies',
    columns: [
      { title: 'one' },
      { title: 'is', isNumber: true },
      { title: 'date' },
      { title: 'source' },
    ],
    rows: rates.map(({ from, to, rate, date, source }) => [from, `${rate} ${to}`, date, source]),
  });
}

function energyTable(rigs: readonly RigWorth[]): Markup | null {
  if (rigs.every(({ energy }) => energy === null)) return null;
  return renderTable({
    caption: 'Energy of the processor packages, idle power included',
    columns: [
      { title: 'rig' },
      { title: 'energy a task', isLong: true },
      { title: 'mean power', isNumber: true },
      { title: 'a year', isNumber: true },
    ],
    rows: rigs.map(({ label, energy }) => [
      label,
      energy?.tasks
        .map(({ workload, value }) => `${workload} ${Number(value.toPrecision(3))} J`)
        .join(', ') ?? 'not measured',
      energy?.meanPower ? `${Number(energy.meanPower.value.toPrecision(3))} W` : '',
      energy?.running
        ? `${energy.running.cost.amount} ${energy.running.cost.currency} for ${Number(energy.running.kilowattHours.toPrecision(3))} kWh`
        : '',
    ]),
  });
}
