import { suggest } from '../lib/suggest.ts';
import type { Fault } from './describe-issue.ts';
import { resolveMetric, workOf } from './resolve-metric.ts';
import type {
  WrittenMetric,
  WrittenMetrics,
  WrittenOperator,
  WrittenScripted,
  WrittenWorkload,
} from './written.ts';

/** What is wrong between metrics, and between them and the steps they are taken from. */
export function checkMetrics(workload: WrittenWorkload): readonly Fault[] {
  const { metrics = {} } = workload;
  return Object.entries(metrics).flatMap(([id, metric]) => {
    const faults = [
      ...(metric.from === 'derived' ? checkDerived(metric, metrics) : []),
      ...(metric.from === 'operator' ? checkBounds(metric) : []),
      ...(workload.kind === 'scripted' ? checkStep(metric, workload) : []),
    ];
    return faults.map((fault) => ({ ...fault, path: ['metrics', id, ...fault.path] }));
  });
}

/** What work can be divided by is a time, a size or a count, which a derived metric never is: so no circles. */
function checkDerived(
  { work, per }: Extract<WrittenMetric, { from: 'derived' }>,
  metrics: WrittenMetrics,
): readonly Fault[] {
  const { code } = workOf(work);
  const fitting = Object.entries(metrics)
    .filter(([id, metric]) => ['s', code].includes(resolveMetric(id, metric, metrics).unit))
    .map(([id]) => id);
  if (fitting.includes(per)) return [];
  const near = suggest(per, fitting);
  if (near !== null) return [fault(['per'], `\`per\` is \`${per}\`; did you mean \`${near}\`?`)];
  const found = Object.hasOwn(metrics, per)
    ? `\`${per}\`, neither a time nor in the unit of \`work\``
    : `\`${per}\`, which is no metric of this workload`;
  const listed = fitting.map((id) => `\`${id}\``).join(', ');
  const expected =
    fitting.length === 0
      ? 'a time metric, of which this workload has none: add `wall: { from: accounting, reading: wall }`'
      : `one of those that fit: ${listed}`;
  return [fault(['per'], `\`per\` is ${found}; expected ${expected}`)];
}

function checkBounds({ least, most }: WrittenOperator): readonly Fault[] {
  if (least === undefined || most === undefined || most > least) return [];
  return [
    fault(['most'], `\`most\` is \`${most}\`; expected more than \`least\`, which is \`${least}\``),
  ];
}

function checkStep(metric: WrittenMetric, workload: WrittenScripted): readonly Fault[] {
  const step = 'step' in metric ? metric.step : undefined;
  const stream = 'in' in metric && typeof metric.in === 'string' ? metric.in : null;
  if (step === undefined) {
    if (stream === null) return [];
    return [
      fault(
        ['in'],
        `\`in\` is \`${stream}\` of no step; add \`step: NAME\`, or look into \`{ file: NAME }\``,
      ),
    ];
  }
  if ('in' in metric && stream === null)
    return [
      fault(
        ['step'],
        "`step` goes with `in: stdout` or `in: stderr`; a file is no single step's: remove it",
      ),
    ];
  const known = [...workload['set-up'], ...workload.steps].map(({ id }) => id);
  return known.includes(step) ? [] : [fault(['step'], unknownStep(step, known))];
}

function unknownStep(step: string, known: readonly string[]): string {
  const near = suggest(step, known);
  if (near !== null) return `\`step\` is \`${step}\`; did you mean \`${near}\`?`;
  const listed = known.map((id) => `\`${id}\``).join(', ');
  return `\`step\` is \`${step}\`, no step of \`set-up\` or \`steps\`; expected one of ${listed}`;
}

function fault(path: Fault['path'], message: string): Fault {
  return { path, at: 'value', message };
}
