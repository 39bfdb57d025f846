import { compareRigs } from '../../src/compare/compare-rigs.ts';
import { unwrap } from '../setup/unwrap.ts';
import { requestOf, rigOf } from './as-request.ts';
import type { Method } from './methods.ts';
import { drawSitting } from './noise.ts';

/** Workloads of one comparison: a question asked so many times. */
const workloads = 30;

/** Equal rigs, many rows: is there any verdict that they differ? */
function family(name: string, sittings: readonly [number, number]): Method {
  return {
    name,
    wanted: 5.5,
    ask: (random, setting, ratio) => {
      const [baseline, candidate] = sittings.map((count, side) => {
        const figures = Array.from({ length: workloads }, () =>
          Array.from({ length: count }, () =>
            drawSitting(random, setting, side === 0 ? 1 : 1 / ratio, setting.repeats),
          ),
        );
        const hours = Array.from({ length: count }, (_, at) => 50 * side + at);
        return rigOf(`bench-${side}`, figures, hours);
      });
      if (baseline === undefined || candidate === undefined) throw new Error('internal error');
      const { rows, overall } = unwrap(compareRigs(requestOf(baseline, [candidate], [])));
      const { low = null, high = null } = overall[0] ?? {};
      return {
        differs: rows.some(({ verdict }) => verdict === 'better' || verdict === 'worse'),
        equivalent: false,
        covers: low === null || high === null ? null : low <= ratio && ratio <= high,
      };
    },
  };
}

export const families: readonly Method[] = [
  family('30 rows, 2+2', [2, 2]),
  family('30 rows, 3+3', [3, 3]),
  family('30 rows, 5+5', [5, 5]),
  family('30 rows, 2+6', [2, 6]),
];
