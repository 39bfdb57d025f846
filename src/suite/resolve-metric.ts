import type { ShippedMetric } from '../model/shipped.ts';
import type { Metric, OutputPlace } from '../model/suite.ts';
import type { UnitCode } from '../model/unit.ts';
import { parseUnit, parseWork } from './unit-text.ts';
import { valid } from './valid.ts';
import type { WrittenMetric, WrittenPlace } from './written.ts';

/** The metric with unit and direction, where the file leaves them to be implied. */
export function resolveMetric(id: string, written: WrittenMetric): Metric {
  switch (written.from) {
    case 'accounting': {
      const { reading } = written;
      const unit = reading === 'peak-memory' ? 'By' : 's';
      return { id, source: { kind: 'accounting', reading, step: null }, unit, better: 'lower' };
    }
    case 'derived': {
      const { amount, code } = valid(parseWork(written.work));
      const source = { kind: 'derived', work: amount, per: written.per } as const;
      return { id, source, unit: perSecond(code), better: 'higher' };
    }
    case 'pattern': {
      const { code, factor } = valid(parseUnit(written.unit));
      const { pattern, better } = written;
      const source = { kind: 'pattern', pattern, in: resolvePlace(written.in), factor } as const;
      return { id, source, unit: code, better };
    }
    case 'json': {
      const { code, factor } = valid(parseUnit(written.unit));
      const { pointer, better } = written;
      const source = { kind: 'json', pointer, in: resolvePlace(written.in), factor } as const;
      return { id, source, unit: code, better };
    }
  }
}

/** A metric of a shipped workload's last line, which is in base units already. */
export function resolveShippedMetric({ id, pointer, unit, better }: ShippedMetric): Metric {
  const source = { kind: 'json', pointer, in: { kind: 'stdout', step: null }, factor: 1 } as const;
  return { id, source, unit, better };
}

export function resolvePlace(written: WrittenPlace): OutputPlace {
  return typeof written === 'string'
    ? { kind: written, step: null }
    : { kind: 'file', path: written.file };
}

function perSecond(code: UnitCode): UnitCode {
  return `${code}/s`;
}
