import type { Finding } from '../../model/finding.ts';
import type { CheckContext } from '../check.ts';

/** The meter can give every reading the suite asks for. */
export function checkMeter({ suite, meter, meterWhy }: CheckContext): readonly Finding[] {
  if (meter === 'kernel') return [];
  const missing = suite.workloads.flatMap(({ id, metrics }) =>
    metrics.flatMap((metric) =>
      metric.source.kind === 'accounting' && metric.source.reading !== 'wall'
        ? [{ id, reading: metric.source.reading }]
        : [],
    ),
  );
  const why = meterWhy ?? 'it was asked for';
  if (missing.length === 0) {
    return [
      {
        check: 'meter',
        severity: 'warn',
        workload: null,
        message: `the portable meter measures (${why}): wall times are less exact, CPU time and peak memory are not known`,
        remedy: 'measure on Linux with the koffi package working for the kernel meter',
      },
    ];
  }
  return missing.map(({ id, reading }) => ({
    check: 'meter',
    severity: 'refuse',
    workload: id,
    message: `asks for ${reading}, which the portable meter cannot read (${why})`,
    remedy: 'take the metric out, or measure on Linux with the koffi package working',
  }));
}
