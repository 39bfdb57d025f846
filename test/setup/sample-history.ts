import type { HistoryRequest } from '../../src/compare/history/make-history.ts';
import { makeHistory } from '../../src/compare/history/make-history.ts';
import { type Random, seededRandom } from '../../src/lib/random.ts';
import type { SittingFigures } from '../../src/model/comparison-request.ts';
import type { History } from '../../src/model/history.ts';
import { sampleFigures, sampleMetric, sampleWorkloadFigures } from './figures.ts';

export interface InventedHistory {
  readonly seed?: number;
  readonly sittings?: number;
  readonly repeats?: number;
  /** Standard deviation of the logs of sittings, and of repeats around theirs. */
  readonly between?: number;
  readonly within?: number;
  /** Times of sittings from `at` on are multiplied by this. */
  readonly shifts?: readonly { readonly at: number; readonly factor: number }[];
  readonly changes?: (place: number) => Partial<SittingFigures>;
}

/** One draw of a standard normal (Box and Muller). */
export function drawNormal(random: Random): number {
  const [one, other] = [random.next(), random.next()].map((word) => (word + 0.5) / 2 ** 32);
  return Math.sqrt(-2 * Math.log(one ?? 1)) * Math.cos(2 * Math.PI * (other ?? 0));
}

/** Invented sittings of a bench of Harbour Lane, one a day, that pack in about 12 s, with shifts where they are planted. */
export function inventSittings({
  seed = 1,
  sittings = 40,
  repeats = 5,
  between = 0.01,
  within = 0.005,
  shifts = [],
  changes = () => ({}),
}: InventedHistory = {}): readonly SittingFigures[] {
  const random = seededRandom(seed);
  return Array.from({ length: sittings }, (_, place) => {
    const factor = shifts.reduce((all, own) => (place >= own.at ? all * own.factor : all), 1);
    const level = 12 * factor * Math.exp(between * drawNormal(random));
    const values = Array.from(
      { length: repeats },
      () => level * Math.exp(within * drawNormal(random)),
    );
    const workloads = [sampleWorkloadFigures([sampleMetric(values)])];
    return sampleFigures('bench-a', 24 * place, workloads, changes(place));
  });
}

export function historyOfInvented(
  invented: InventedHistory = {},
  request: Partial<HistoryRequest> = {},
): History {
  return makeHistory({
    rig: 'bench-a',
    sittings: inventSittings(invented),
    workloads: null,
    baseline: null,
    tool: '0.1.0',
    notes: [],
    ...request,
  });
}
