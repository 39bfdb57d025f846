import type { RunFigures } from '../model/telemetry.ts';

/** Hotter by this much, and slower by this share, is no chance of sampling. Common practice, no source. */
const hotterKelvin = 5;
const slowerShare = 0.03;

/**
 * True when, of the runs of one workload in one sitting, the hotter half ran at a clearly lower clock (3 %) than the cooler half,
 * being at least 5 K hotter at its peaks. Two runs with both figures at least; an odd one in the middle is passed over.
 */
export function clockFellWhenHot(
  runs: readonly Pick<RunFigures, 'maxTemperature' | 'meanFastestClockHz' | 'meanClockHz'>[],
): boolean {
  const known = runs.flatMap((run) => {
    const clock = run.meanFastestClockHz ?? run.meanClockHz;
    return run.maxTemperature === null || clock === null
      ? []
      : [{ celsius: run.maxTemperature, clock }];
  });
  if (known.length < 2) return false;
  const rising = known.toSorted((a, b) => a.celsius - b.celsius);
  const half = Math.floor(rising.length / 2);
  const [cool, hot] = [rising.slice(0, half), rising.slice(-half)];
  const mean = (of: 'celsius' | 'clock', part: typeof rising): number =>
    part.reduce((sum, run) => sum + run[of], 0) / part.length;
  return (
    mean('celsius', hot) - mean('celsius', cool) >= hotterKelvin &&
    mean('clock', hot) < (1 - slowerShare) * mean('clock', cool)
  );
}
