import { InvalidArgumentError } from 'commander';
import { parsePercent } from '../suite/quantity.ts';

/** A fraction from a percentage, both ends included. */
export function parsePercentage(
  text: string,
  { least, most }: { readonly least: number; readonly most: number },
): number {
  const parsed = parsePercent(text);
  if (!parsed.ok) throw new InvalidArgumentError(parsed.error);
  if (parsed.value >= least && parsed.value <= most) return parsed.value;
  throw new InvalidArgumentError(
    `it must be from ${least * 100} % to ${Number((most * 100).toFixed(1))} %`,
  );
}
