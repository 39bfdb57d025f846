import type { Fault, GivenFigure } from './given-figure.ts';

/** What is wrong with figures beside one another: the same figure twice, one metric in two units, one sitting of two suites. */
export function checkTogether(figures: readonly GivenFigure[]): readonly Fault[] {
  const seen = new Map<string, GivenFigure>();
  const first = (kind: string, figure: GivenFigure, ...parts: (string | number)[]): GivenFigure => {
    const key = [kind, ...parts].join('\n');
    const found = seen.get(key) ?? figure;
    seen.set(key, found);
    return found;
  };
  return figures.flatMap((figure) => {
    const { rig, sitting, suite, workload, repeat, metric, unit, better, places } = figure;
    const same = first('figure', figure, rig, sitting, workload, repeat, metric);
    if (same !== figure) {
      const name = `${workload}, repeat ${repeat}, ${metric} of the sitting ${sitting}`;
      const message = `${name} is there already in line ${same.places.metric.line}`;
      return [{ ...places.metric, message }];
    }
    const faults: Fault[] = [];
    const host = first('sitting', figure, rig, sitting);
    if (host.suite !== suite) {
      const message = `suite: \`${suite}\`, but \`${host.suite}\` in line ${host.places.suite.line} for the same sitting`;
      faults.push({ ...places.suite, message });
    }
    const metricOf = first('metric', figure, suite, workload, metric);
    if (metricOf.unit !== unit) {
      const message = `unit: ${metric} of ${workload} is in \`${unit}\` here and in \`${metricOf.unit}\` in line ${metricOf.places.unit.line}`;
      faults.push({ ...places.unit, message });
    }
    if (metricOf.better !== better) {
      const message = `better: ${metric} of ${workload} is \`${better}\` here and \`${metricOf.better}\` in line ${metricOf.places.better.line}`;
      faults.push({ ...places.better, message });
    }
    return faults;
  });
}
