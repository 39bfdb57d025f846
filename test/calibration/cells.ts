import { seededRandom } from '../../src/lib/random.ts';
import { families } from './families.ts';
import { adaptiveMethods, type Method, methods } from './methods.ts';
import { type NoiseKind, noiseKinds, type Setting } from './noise.ts';
import { orders } from './orders.ts';
import { count, emptyTally, type Tally } from './tally.ts';

/** A table: every method under every setting, at every true ratio. */
export interface Block {
  readonly methods: readonly Method[];
  readonly settings: readonly Setting[];
  readonly ratios: readonly number[];
  /** Comparisons a cell. */
  readonly rounds: number;
}

const skewed = new Set<NoiseKind>(['normal', 'lognormal']);

function settings(
  noise: NoiseKind,
  within: readonly number[],
  shares: readonly number[],
  repeats: readonly number[],
): readonly Setting[] {
  return within.flatMap((withinSittings) =>
    shares.flatMap((share) =>
      repeats.map((count) => ({
        noise,
        withinSittings,
        betweenSittings: share * withinSittings,
        repeats: count,
      })),
    ),
  );
}

const everyNoise = noiseKinds.flatMap((noise) =>
  settings(noise, skewed.has(noise) ? [0.003, 0.01, 0.05] : [0.01], [0, 1, 2], [3, 10]),
);

/** By name. The true ratio 1.02 is the edge of the difference that matters. */
export const blocks = {
  equal: { methods, settings: everyNoise, ratios: [1], rounds: 2000 },
  edge: { methods, settings: everyNoise, ratios: [1.02], rounds: 500 },
  power: {
    methods,
    settings: settings('normal', [0.003, 0.01, 0.02], [0.5, 1], [5]),
    ratios: [1, 1.01, 1.02, 1.03, 1.05],
    rounds: 1000,
  },
  adaptive: {
    methods: adaptiveMethods,
    settings: noiseKinds.flatMap((noise) => settings(noise, [0.01, 0.02], [0, 1, 2], [8])),
    ratios: [1],
    rounds: 1000,
  },
  families: {
    methods: families,
    settings: settings('normal', [0.01], [0, 1, 2], [3, 10]),
    ratios: [1],
    rounds: 500,
  },
  orders: {
    methods: orders,
    settings: settings('normal', [0.01], [0, 1, 2], [3, 10]),
    ratios: [1],
    rounds: 1000,
  },
} as const satisfies Record<string, Block>;

export type BlockName = keyof typeof blocks;

export interface Cell {
  readonly block: BlockName;
  readonly method: number;
  readonly setting: number;
  readonly ratio: number;
  readonly rounds: number;
}

/** `part`: of the usual number of rounds. */
export function cellsOf(block: BlockName, part: number): readonly Cell[] {
  const own: Block = blocks[block];
  return own.settings.flatMap((_, setting) =>
    own.methods.flatMap((__, method) =>
      own.ratios.map((ratio) => ({
        ...{ block, method, setting, ratio },
        rounds: Math.max(20, Math.round(own.rounds * part)),
      })),
    ),
  );
}

/** Seeded by the cell itself: the same figures in whatever order cells are worked through. */
export function workCell({ block, method, setting, ratio, rounds }: Cell): Tally {
  const own: Block = blocks[block];
  const [asked, under] = [own.methods[method], own.settings[setting]];
  if (asked === undefined || under === undefined) throw new Error('internal error: no such cell');
  return simulate(asked, under, { ratio, rounds });
}

export function simulate(
  method: Method,
  setting: Setting,
  { ratio, rounds }: { readonly ratio: number; readonly rounds: number },
): Tally {
  const random = seededRandom(seedOf(JSON.stringify([method.name, setting, ratio])));
  const tally = emptyTally();
  for (let round = 0; round < rounds; round += 1) count(tally, method.ask(random, setting, ratio));
  return tally;
}

/** FNV-1a (Fowler, Noll, Vo), 32 bits. */
function seedOf(text: string): number {
  let hash = 0x811c9dc5;
  for (const sign of text) hash = Math.imul(hash ^ (sign.codePointAt(0) ?? 0), 0x01000193);
  return hash >>> 0;
}
