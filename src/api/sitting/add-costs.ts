import type { TelemetryCost } from '../../model/telemetry.ts';

/** What sampling took in two parts of a sitting together. */
export function addCosts(
  earlier: TelemetryCost | null,
  later: TelemetryCost | null,
): TelemetryCost | null {
  if (earlier === null || later === null) return earlier ?? later;
  const samples = earlier.samples + later.samples;
  const mean = (one: number, other: number): number =>
    samples === 0 ? 0 : (one * earlier.samples + other * later.samples) / samples;
  const [cpuBefore, cpuAfter] = [earlier.meanCpuSeconds, later.meanCpuSeconds];
  return {
    samples,
    skipped: earlier.skipped + later.skipped,
    intervalSeconds: later.intervalSeconds,
    meanWallSeconds: mean(earlier.meanWallSeconds, later.meanWallSeconds),
    maxWallSeconds: Math.max(earlier.maxWallSeconds, later.maxWallSeconds),
    meanCpuSeconds: cpuBefore === null || cpuAfter === null ? null : mean(cpuBefore, cpuAfter),
    lost: earlier.lost + later.lost,
  };
}
