import type { Factor } from '../../src/model/campaign.ts';
import type { MetricFigures, SittingFigures } from '../../src/model/comparison-request.ts';
import type { EffectRig, EffectsRequest } from '../../src/model/effects.ts';
import { sampleFigures, sampleMetric, sampleWorkloadFigures } from './figures.ts';

/** A rig at levels, one figure a sitting; hours tell its sittings from those of others. */
export function effectRig(
  label: string,
  levels: Readonly<Record<string, string>>,
  values: readonly number[],
  metric: Partial<MetricFigures> = {},
  changes: Partial<SittingFigures> = {},
): EffectRig {
  const sittings = values.map((value, hour) =>
    sampleFigures(label, hour, [sampleWorkloadFigures([sampleMetric([value], metric)])], {
      levels,
      ...changes,
    }),
  );
  return { label, levels: null, sittings };
}

export function effectsRequest(
  rigs: readonly EffectRig[],
  changes: Partial<EffectsRequest> = {},
): EffectsRequest {
  return {
    factors: null,
    rigs,
    confidence: 0.95,
    matters: null,
    allowRevision: false,
    studies: [],
    order: null,
    ...changes,
  };
}

export function effectFactor(id: string, ...levels: [string, ...string[]]): Factor {
  return { id, title: id, levels };
}
