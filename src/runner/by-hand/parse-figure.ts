import { err, ok, type Result } from '../../lib/result.ts';
import { figureText } from '../../model/figure-text.ts';
import type { Metric } from '../../model/suite.ts';
import { toBaseUnit, unitMeaning } from '../../model/unit.ts';

// A word such as e5 is an exponent, no unit.
const plain = /^(-?\d{1,15}(?:\.\d{1,15})?)(?:\s?(?!e[+-]?\d)([^\s\d.,'’_].*))?$/iu;

/**
 * A figure that a person typed, in the metric's base unit: a plain number with a decimal point, alone or with the metric's
 * unit or another one of the same kind. The error says what was found and what to type.
 */
export function parseFigure(text: string, metric: Metric): Result<number, string> {
  if (metric.source.kind !== 'operator') {
    throw new Error(`internal error: metric ${metric.id} is not read by hand`);
  }
  const written = text.trim();
  const found = plain.exec(written);
  if (found?.[1] === undefined) return err(shapeFault(written));
  const [, digits, unit] = found;
  const factor = unit === undefined ? metric.source.factor : factorOf(unit.trim(), metric);
  if (factor === null) return err(unitFault(unit ?? '', metric));
  const value = toBaseUnit(Number(digits), factor);
  const fault = rangeFault(value, metric, metric.source);
  return fault === null ? ok(value === 0 ? 0 : value) : err(fault);
}

function shapeFault(written: string): string {
  if (/^-?[\d.,'’\s]*,[\d.,'’\s]*\d/.test(written)) {
    return `${quote(written)} holds a comma: write the decimal sign as a point, and nothing between thousands`;
  }
  if (/\d[\s'’_]\d/.test(written)) {
    return `${quote(written)} holds a separator between its digits: write 4120, not 4 120`;
  }
  return `${quote(written)} is not a plain number; type one such as 41.5`;
}

/** Null where the unit is another kind of thing than the metric. */
function factorOf(unit: string, metric: Metric): number | null {
  if (metric.source.kind === 'operator' && unit === metric.source.symbol) {
    return metric.source.factor;
  }
  const meaning = unitMeaning(unit);
  return meaning.code === metric.unit ? meaning.factor : null;
}

function unitFault(unit: string, { id, source }: Metric): string {
  const symbol = source.kind === 'operator' ? source.symbol : '';
  if (symbol.toLowerCase() === unit.trim().toLowerCase()) {
    return `the unit ${quote(unit)} is not known; did you mean \`${symbol}\`?`;
  }
  return `the unit ${quote(unit)} does not fit ${id}, which is in \`${symbol}\`; type the number alone, or followed by ${symbol}`;
}

function rangeFault(
  value: number,
  metric: Metric,
  { least, most }: { readonly least: number | null; readonly most: number | null },
): string | null {
  const text = figureText(value, metric);
  if (least !== null && value < least) {
    return `${text} is below the least that ${metric.id} can be, ${figureText(least, metric)}; check the reading`;
  }
  if (most !== null && value > most) {
    return `${text} is above the most that ${metric.id} can be, ${figureText(most, metric)}; check the reading`;
  }
  return null;
}

/** Whatever was typed or stood in a file, fit for a message on a terminal. */
function quote(text: string): string {
  const shown = text.replace(/\p{Cc}/gu, '�');
  return `\`${shown.length > 40 ? `${shown.slice(0, 40)}…` : shown}\``;
}
