import { type Block, type BlockName, blocks, type Cell } from './cells.ts';
import { type NoiseKind, noiseKinds, type Setting } from './noise.ts';
import { shareText, standardError, type Tally } from './tally.ts';

export type Worked = readonly { readonly cell: Cell; readonly tally: Tally }[];

/** What a table shows of a cell: how many, of how many, and the most that is wanted (per cent). */
interface Shown {
  readonly seen: number;
  readonly of: number;
  readonly most: number | null;
}
export type Show = (tally: Tally, wanted: number | null) => Shown;

export const falseAlarms: Show = ({ differs, rounds }, most) => ({
  seen: differs,
  of: rounds,
  most,
});
export const power: Show = ({ differs, rounds }) => ({ seen: differs, of: rounds, most: null });
/** At least 94 % is wanted wherever false alarms are bounded. */
export const notCovered: Show = ({ covers, intervals }, wanted) => ({
  seen: intervals - covers,
  of: intervals,
  most: wanted === null ? null : Math.max(6, wanted),
});
export const falseEquivalence: Show = ({ equivalent, rounds }) => ({
  seen: equivalent,
  of: rounds,
  most: null,
});

/** Above what is wanted by more than two standard errors. */
function isMissed({ seen, of, most }: Shown): boolean {
  if (most === null || of === 0) return false;
  return seen / of - 2 * standardError(seen, of) > most / 100;
}

function cellText(shown: Shown): string {
  return `${shareText(shown.seen, shown.of)}${isMissed(shown) ? '!' : ''}`;
}

export function percent(fraction: number): string {
  return `${Number((100 * fraction).toFixed(2))}`;
}

/** One table: a line for each method, a column for each setting. */
export function table(worked: Worked, block: BlockName, show: Show, ratio: number): string {
  const own: Block = blocks[block];
  const groups = new Map<string, number[]>();
  for (const [at, setting] of own.settings.entries()) {
    const key = `${setting.noise}, s_r ${percent(setting.withinSittings)} %`;
    groups.set(key, [...(groups.get(key) ?? []), at]);
  }
  return [...groups]
    .map(([title, places]) => {
      const heading = places
        .map((at) => columnText(own.settings[at]))
        .map((text) => text.padStart(10));
      const lines = own.methods.map((method, index) => {
        const cells = places.map((at) => {
          const found = worked.find(
            ({ cell }) => cell.method === index && cell.setting === at && cell.ratio === ratio,
          );
          return found === undefined ? '' : cellText(show(found.tally, method.wanted));
        });
        return `${method.name.padEnd(18)}${cells.map((text) => text.padStart(10)).join('')}`;
      });
      return [
        `${title} (columns: s_b/s_r, repeats)`,
        `${' '.repeat(18)}${heading.join('')}`,
        ...lines,
      ].join('\n');
    })
    .join('\n\n');
}

function columnText(setting: Setting | undefined): string {
  if (setting === undefined) return '';
  const { betweenSittings, withinSittings, repeats } = setting;
  return `${Number((betweenSittings / withinSittings).toFixed(2))}, n=${repeats}`;
}

/** For each method and kind of noise: the mean of the cells, the largest, and how many miss what is wanted. */
export function summary(worked: Worked, block: BlockName, show: Show, ratio: number): string {
  const own: Block = blocks[block];
  const kinds = noiseKinds.filter((noise) =>
    own.settings.some((setting) => setting.noise === noise),
  );
  const lines = own.methods.map((method, index) => {
    const cells = kinds.map((noise) => {
      const shown = worked
        .filter(
          ({ cell }) => cell.method === index && cell.ratio === ratio && isOf(own, cell, noise),
        )
        .map(({ tally }) => show(tally, method.wanted));
      return shown.some(({ of }) => of > 0) ? summarized(shown) : '-';
    });
    return `${method.name.padEnd(18)}${cells.map((text) => text.padStart(16)).join('')}`;
  });
  const heading = `${' '.repeat(18)}${kinds.map((kind) => kind.padStart(16)).join('')}`;
  return [
    'mean of the cells, the largest, how many miss what is wanted (!)',
    heading,
    ...lines,
  ].join('\n');
}

function isOf(block: Block, cell: Cell, noise: NoiseKind): boolean {
  return block.settings[cell.setting]?.noise === noise;
}

function summarized(shown: readonly Shown[]): string {
  const seen = shown.reduce((sum, own) => sum + own.seen, 0);
  const of = shown.reduce((sum, own) => sum + own.of, 0);
  const largest = Math.max(...shown.map((own) => own.seen / own.of));
  const missed = shown.filter(isMissed).length;
  return `${shareText(seen, of)} ${(100 * largest).toFixed(1)}${missed > 0 ? ` !${missed}` : ''}`;
}
