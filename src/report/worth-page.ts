import type {
  Amount,
  FrontierRow,
  Gain,
  RigEnergy,
  RigWorth,
  Total,
  Worth,
} from '../model/worth.ts';
import { plainText } from './comparison/plain-text.ts';
import { intervalText, ratioText } from './comparison/ratio-text.ts';
import { labelledLines } from './labelled-lines.ts';
import { formatQuantity } from './quantity.ts';

const width = 80;

/** What the rigs of a campaign cost and give for it, as a page of 80 columns. */
export function renderWorth(worth: Worth): string {
  return [
    ...lines(plainText(worth.question), ''),
    ...(worth.invented ? ['INVENTED DATA, for demonstration: prices or figures are made up'] : []),
    '',
    ...worth.rigs.flatMap((rig) => [...rigLines(rig, worth.baseline), '']),
    ...frontierLines(worth),
    '',
    ...priceLines(worth),
    '',
    ...worth.notes.flatMap((note) => lines(plainText(note), '! ')),
    ...lines(legend, ''),
  ].join('\n');
}

const legend =
  'An index above 1 means better than the baseline; per money, the baseline as measured is 1. Only "as measured" was measured: replacements on paper change the price alone. Prices are taken as exact. Energy is that of the processor packages only, idle power included: neither memory, graphics, disks nor losses of the power supply, so running costs are a part of the bill.';

function rigLines(rig: RigWorth, baseline: string): string[] {
  const name = rig.label === baseline ? `${rig.label} (baseline)` : rig.label;
  const title = rig.title === rig.label ? name : `${name}: ${rig.title}`;
  return [
    ...lines(plainText(title), ''),
    ...rig.builds.flatMap((build) => {
      const replaced = build.replaced
        .map(({ part, by, pieces }) => `${pieces > 1 ? `${pieces} x ` : ''}${part} by ${by}`)
        .join(', ');
      const on = replaced === '' ? '' : `, on paper ${replaced}`;
      return lines(
        plainText(`${build.kind.replaceAll('-', ' ')}${on}: ${totals(build.value, build.toPay)}`),
        '  price        ',
      );
    }),
    ...performanceLines(rig, rig.label === baseline),
    ...energyLines(rig),
  ];
}

function totals(value: Total, toPay: Total): string {
  const owned = totalText(value) === totalText(toPay) ? '' : `; still to pay ${totalText(toPay)}`;
  return `${totalText(value)}${owned}`;
}

function totalText({ currencies, together, missing }: Total): string {
  const apart = currencies.map(money).join(' + ') || 'nothing priced';
  const whole =
    together === null || currencies.length === 0 || apart === money(together)
      ? apart
      : `${money(together)} (${apart})`;
  return missing.length === 0 ? whole : `at least ${whole}, without a price: ${missing.join(', ')}`;
}

function performanceLines(rig: RigWorth, isBaseline: boolean): readonly string[] {
  if (rig.index === null) return [...lines('not compared', '  performance  ')];
  const { asMeasured, cheapest } = rig.perMoney;
  const perMoney =
    asMeasured === null
      ? 'not told: a price is missing or has no rate'
      : `${withInterval(asMeasured)} as measured${cheapest === null || cheapest.value === asMeasured.value ? '' : `, ${withInterval(cheapest)} with the cheapest parts`}`;
  return [
    ...(isBaseline ? [] : lines(`index ${withInterval(rig.index)}`, '  performance  ')),
    ...lines(perMoney, '  per money    '),
    ...(rig.gain === null ? [] : lines(gainText(rig.gain), '  worth        ')),
    ...(rig.gainToPay === null || isSame(rig.gainToPay, rig.gain)
      ? []
      : lines(`by what is still to pay: ${gainText(rig.gainToPay)}`, '  worth        ')),
  ];
}

/** What is owned is in both rigs alike. */
function isSame(one: Gain, other: Gain | null): boolean {
  return other !== null && gainText(one) === gainText(other);
}

function withInterval(figure: NonNullable<RigWorth['index']>): string {
  const row = { ratio: figure.value, low: figure.low, high: figure.high };
  return figure.low === null ? ratioText(row) : `${ratioText(row)} (${intervalText(row)})`;
}

/** In words: whether the money buys anything, and what a percent costs. */
function gainText({ performance, price, difference, percent }: Gain): string {
  const by = price === 'same' ? 'the same price' : `${money(absolute(difference))} ${price}`;
  if (performance === 'better') {
    if (price === 'cheaper') return `better and cheaper: ${by}`;
    if (price === 'same') return `better at ${by}`;
  }
  if (performance === 'worse' && price !== 'cheaper') return `worse at ${by}: not worth its price`;
  const bounds =
    percent === null || percent.high === null || percent.value === null
      ? ''
      : `${money(percent.value)} (${percent.low.amount} … ${percent.high.amount})`;
  if (performance === 'better') return `better, ${by}: a percent costs ${bounds}`;
  if (performance === 'worse') return `worse, ${by}: a percent given up saves ${bounds}`;
  const least = percent === null ? '' : `; a percent costs at least ${money(percent.low)}`;
  return price === 'dearer'
    ? `no gain shown, ${by}${least}, without an upper bound`
    : `no difference in performance shown, ${by}`;
}

function absolute({ amount, currency }: Amount): Amount {
  return { amount: amount.replace(/^-/, ''), currency };
}

function energyLines({ energy }: RigWorth): string[] {
  if (energy === null) return [];
  const { tasks, meanPower, running } = energy;
  const joules = (value: number): string => formatQuantity(value, 'J', 3);
  return [
    ...tasks.flatMap(({ workload, value, low, high }) => {
      const interval = low === null || high === null ? '' : ` (${joules(low)} … ${joules(high)})`;
      return lines(plainText(`${workload} ${joules(value)} a task${interval}`), '  energy       ');
    }),
    ...(meanPower === null
      ? []
      : lines(
          `mean power ${formatQuantity(meanPower.value, 'W', 3)}, ${meanPower.workloads} ${meanPower.workloads === 1 ? 'workload' : 'workloads'}`,
          '  energy       ',
        )),
    ...(running === null
      ? []
      : lines(
          `${money(running.cost)} a year for ${running.kilowattHours.toFixed(1)} kWh${boundsText(running)}`,
          '  running      ',
        )),
  ];
}

/** None where it is narrower than the smallest coin. */
function boundsText({ low, high }: NonNullable<RigEnergy['running']>): string {
  if (low === null || high === null || low.amount === high.amount) return '';
  return ` (${low.amount} … ${high.amount})`;
}

const stateTexts: Readonly<Record<FrontierRow['state'], string>> = {
  unbeaten: 'no other rig beats it in both price and performance',
  open: 'not shown to be beaten; costs no more and may be as fast or faster:',
  beaten: 'beaten: costs no more and is surely faster:',
  'not-told': 'not told: a price or a comparison is missing',
};

/** On paper too, where anything may be replaced there. */
function frontierLines({ frontier: rows, rigs }: Worth): readonly string[] {
  const isReplaced = rigs.some(({ builds }) => builds.length > 1);
  return (['as-measured', ...(isReplaced ? (['cheapest'] as const) : [])] as const).flatMap(
    (by) => {
      const title = by === 'as-measured' ? 'as measured' : 'with the cheapest parts on paper';
      return [
        `Price and performance, ${title}:`,
        ...rows
          .filter((row) => row.by === by)
          .flatMap((row) =>
            lines(
              plainText(`${row.rig}: ${stateTexts[row.state]} ${row.others.join(', ')}`.trim()),
              '  ',
            ),
          ),
      ];
    },
  );
}

/** Where every price and rate comes from, and of when it is. */
function priceLines({ parts, rates }: Worth): readonly string[] {
  const priced = parts.flatMap(({ part, name, price }) => {
    if (price === null) return lines(plainText(`${part}: ${name}, no price`), '  ');
    const { amount, currency, date, source } = price;
    return lines(plainText(`${part}: ${name}, ${amount} ${currency}, ${date}, ${source}`), '  ');
  });
  const converted = rates.flatMap(({ from, to, rate, date, source }) =>
    lines(plainText(`1 ${from} = ${rate} ${to}, ${date}, ${source}`), '  '),
  );
  return [
    ...(priced.length === 0 ? [] : ['Prices:', ...priced]),
    ...(converted.length === 0 ? [] : ['Rates:', ...converted]),
  ];
}

function money({ amount, currency }: Amount): string {
  return `${amount} ${currency}`;
}

function lines(text: string, first: string): readonly string[] {
  return labelledLines(text, first, width);
}
