import type { ShippedMetric } from '../model/shipped.ts';
import type { FrameFigure, Metric, OutputPlace } from '../model/suite.ts';
import { toBaseUnit, type UnitCode } from '../model/unit.ts';
import { parseUnit, parseWork } from './unit-text.ts';
import { valid } from './valid.ts';
import type {
  WrittenFrames,
  WrittenMetric,
  WrittenMetrics,
  WrittenOperator,
  WrittenPlace,
} from './written.ts';

/** The metric with unit and direction, where the file leaves them to be implied by it or by another of `metrics`. */
export function resolveMetric(id: string, written: WrittenMetric, metrics: WrittenMetrics): Metric {
  switch (written.from) {
    case 'accounting': {
      const { reading, step = null } = written;
      const unit = reading === 'peak-memory' ? 'By' : 's';
      return { id, source: { kind: 'accounting', reading, step }, unit, better: 'lower' };
    }
    case 'derived':
      return resolveDerived(id, written, metrics);
    case 'pattern': {
      const { code, factor } = valid(parseUnit(written.unit));
      const { pattern, better } = written;
      const place = resolvePlace(written.in, written.step);
      return { id, source: { kind: 'pattern', pattern, in: place, factor }, unit: code, better };
    }
    case 'json': {
      const { code, factor } = valid(parseUnit(written.unit));
      const { pointer, better } = written;
      const place = resolvePlace(written.in, written.step);
      return { id, source: { kind: 'json', pointer, in: place, factor }, unit: code, better };
    }
    case 'file-size':
      return { id, source: { kind: 'file-size', path: written.file }, unit: 'By', better: 'lower' };
    case 'frames':
      return resolveFrames(id, written);
    case 'operator':
      return resolveOperator(id, written);
  }
}

/** Amount and UCUM code of a derived metric's work. */
export function workOf(written: string): { readonly amount: number; readonly code: UnitCode } {
  return valid(parseWork(written));
}

function resolveDerived(
  id: string,
  { work, per }: Extract<WrittenMetric, { from: 'derived' }>,
  metrics: WrittenMetrics,
): Metric {
  const { amount, code } = workOf(work);
  const divisor = Object.hasOwn(metrics, per) ? metrics[per] : undefined;
  const isRatio =
    divisor !== undefined &&
    divisor.from !== 'derived' &&
    resolveMetric(per, divisor, metrics).unit === code;
  const source = { kind: 'derived', work: amount, per } as const;
  return { id, source, unit: isRatio ? '1' : `${code}/s`, better: 'higher' };
}

function resolveFrames(id: string, written: WrittenFrames): Metric {
  const { column, figure, step, unit, delimiter } = written;
  const source = {
    kind: 'frames',
    in: resolvePlace(written.in, step),
    column,
    delimiter: delimiter === 'tab' ? '\t' : delimiter,
    factor: valid(parseUnit(unit)).factor,
    figure,
  } as const;
  return { id, source, ...meaningOf(figure) };
}

function meaningOf(figure: FrameFigure): Pick<Metric, 'unit' | 'better'> {
  switch (figure) {
    case 'average-rate':
    case 'rate-at-slowest-1-percent':
    case 'rate-at-slowest-0.1-percent':
    case 'rate-over-slowest-1-percent':
    case 'rate-over-slowest-0.1-percent':
      return { unit: '{frames}/s', better: 'higher' };
    case 'long-frames':
      return { unit: '{frames}', better: 'lower' };
    case 'median-time':
    case 'time-at-95-percent':
    case 'time-at-99-percent':
    case 'time-in-long-frames':
    case 'time-beyond-16.7-ms':
    case 'time-beyond-33.3-ms':
      return { unit: 's', better: 'lower' };
  }
}

function resolveOperator(id: string, { unit, better, least, most }: WrittenOperator): Metric {
  const { code, factor } = valid(parseUnit(unit));
  const bound = (written: number | undefined): number | null =>
    written === undefined ? null : toBaseUnit(written, factor);
  const source = {
    kind: 'operator',
    factor,
    symbol: unit,
    least: bound(least),
    most: bound(most),
  } as const;
  return { id, source, unit: code, better };
}

/** A metric of a shipped workload's last line, which is in base units already. */
export function resolveShippedMetric({ id, pointer, unit, better }: ShippedMetric): Metric {
  const source = { kind: 'json', pointer, in: { kind: 'stdout', step: null }, factor: 1 } as const;
  return { id, source, unit, better };
}

export function resolvePlace(written: WrittenPlace, step: string | null = null): OutputPlace {
  return typeof written === 'string'
    ? { kind: written, step }
    : { kind: 'file', path: written.file };
}
