import type { Sample } from '../../model/telemetry.ts';

/** What is kept of a sample. */
export interface KeptSample extends Pick<Sample, 'atSeconds' | 'values' | 'absent'> {
  /** Taken at the begin or the end of a run. */
  readonly edge: boolean;
}

export interface KeptSamples {
  add(sample: Sample, edge: boolean): void;
  all(): readonly KeptSample[];
}

type Better = (one: KeptSample, other: KeptSample) => boolean;

/**
 * The last samples, cut down to the wanted sensors. At `most` of them the older half is thinned, so that a run of many
 * hours keeps its begin and its course: edges stay, of each two others the better one does. When even edges are too
 * many, the oldest go.
 */
export function keepSamples(
  wanted: ReadonlySet<string>,
  most: number,
  isBetter: Better,
): KeptSamples {
  let kept: KeptSample[] = [];
  return {
    add(sample, edge) {
      kept.push(only(wanted, sample, edge));
      if (kept.length <= most) return;
      kept = thinned(kept, isBetter);
      // Room for more than one, or each further sample would thin again.
      if (kept.length > most * 0.9) kept = kept.slice(Math.ceil(kept.length / 4));
    },
    all: () => kept,
  };
}

function only(wanted: ReadonlySet<string>, sample: Sample, edge: boolean): KeptSample {
  const pick = <T>(record: Readonly<Record<string, T>>): Record<string, T> =>
    Object.fromEntries(Object.entries(record).filter(([id]) => wanted.has(id)));
  const absent = pick(sample.absent ?? {});
  return {
    atSeconds: sample.atSeconds,
    edge,
    values: pick(sample.values),
    ...(Object.keys(absent).length > 0 && { absent }),
  };
}

function thinned(kept: readonly KeptSample[], isBetter: Better): KeptSample[] {
  const half = Math.floor(kept.length / 2);
  const older: KeptSample[] = [];
  let unpaired = false;
  for (const sample of kept.slice(0, half)) {
    const before = older.at(-1);
    if (unpaired && !sample.edge && before !== undefined) {
      if (isBetter(sample, before)) older[older.length - 1] = sample;
      unpaired = false;
      continue;
    }
    older.push(sample);
    unpaired = !sample.edge;
  }
  return [...older, ...kept.slice(half)];
}
