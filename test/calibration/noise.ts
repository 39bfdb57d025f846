import type { Random } from '../../src/lib/random.ts';
import { normalQuantile } from '../../src/stats/normal.ts';

export const noiseKinds = ['normal', 'lognormal', 'bimodal', 'drifting'] as const;
export type NoiseKind = (typeof noiseKinds)[number];

/** Standard deviations are fractions: 0.01 is 1 %. */
export interface Setting {
  readonly noise: NoiseKind;
  readonly withinSittings: number;
  readonly betweenSittings: number;
  readonly repeats: number;
}

/** Of a drifting sitting, how far its last repeat lies from its first, in standard deviations within. */
const driftWithin = 3;
/** Of a bimodal one: how often the slow mode comes, and the part of the variance that the modes make. */
const slowShare = 0.25;
const modeVariance = 0.9;

/** Seconds of the repeats of one sitting of a rig whose true time is `level`. */
export function drawSitting(
  random: Random,
  { noise, withinSittings, betweenSittings }: Setting,
  level: number,
  repeats: number,
): number[] {
  const draw = noise === 'bimodal' ? bimodal : normal;
  const sitting = betweenSittings * draw(random);
  return Array.from({ length: repeats }, (_, at) => {
    let error = sitting + withinSittings * draw(random);
    if (noise === 'drifting') error += driftWithin * withinSittings * (at / (repeats - 1) - 0.5);
    return level * (noise === 'normal' ? 1 + error : Math.exp(error));
  });
}

/** Of mean 0 and standard deviation 1, by the inverse of its distribution function. */
function normal(random: Random): number {
  return normalQuantile((random.next() + 0.5) / 2 ** 32);
}

/** Two narrow modes, of mean 0 and standard deviation 1 together. */
function bimodal(random: Random): number {
  const gap = Math.sqrt(modeVariance / (slowShare * (1 - slowShare)));
  const mode = (random.next() < slowShare * 2 ** 32 ? 1 : 0) - slowShare;
  return gap * mode + Math.sqrt(1 - modeVariance) * normal(random);
}
