import { compareRigs } from '../../src/compare/compare-rigs.ts';
import { unwrap } from '../setup/unwrap.ts';
import { requestOf, rigOf } from './as-request.ts';
import type { Method } from './methods.ts';
import { drawSitting } from './noise.ts';

/** Both rigs get slower from sitting to sitting, by this part of the spread within a sitting: a room that warms up. */
const driftOfSitting = 0.5;

/** Equal rigs that drift, measured in the order given: `A` the baseline, `B` the candidate. */
function order(turns: string): Method {
  const places = (rig: string): readonly number[] =>
    [...turns].flatMap((turn, at) => (turn === rig ? [at] : []));
  return {
    name: turns,
    wanted: null,
    ask: (random, setting, ratio) => {
      const [baseline, candidate] = ['A', 'B'].map((rig) => {
        const hours = places(rig);
        const figures = hours.map((hour) => {
          const level = 1 + driftOfSitting * setting.withinSittings * hour;
          return drawSitting(random, setting, rig === 'A' ? level : level / ratio, setting.repeats);
        });
        return rigOf(rig, [figures], hours);
      });
      if (baseline === undefined || candidate === undefined) throw new Error('internal error');
      const [row] = unwrap(compareRigs(requestOf(baseline, [candidate], []))).rows;
      if (row === undefined) throw new Error('internal error: no row');
      const { verdict, low, high } = row;
      return {
        differs: verdict === 'better' || verdict === 'worse',
        equivalent: verdict === 'equivalent',
        covers: low === null || high === null ? null : low <= ratio && ratio <= high,
      };
    },
  };
}

export const orders: readonly Method[] = ['AAABBB', 'AABBBA', 'ABABAB', 'ABBAAB'].map(order);
