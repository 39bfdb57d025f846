import { parseInteger } from '../parse.ts';

export type ParseNumber = (text: string) => number | null;

/** A whole number in the kernel's unit, divided by how many of these make one of ours. */
export function dividedBy(divisor: number): ParseNumber {
  return (text) => {
    const number = parseInteger(text);
    return number === null ? null : number / divisor;
  };
}

/** A whole number in the kernel's unit times `factor`; null below zero. */
export function times(factor: number): ParseNumber {
  return (text) => {
    const number = parseInteger(text);
    if (number === null || number < 0) return null;
    // A division by the whole divisor is exact where a product is not.
    return factor < 1 ? number / Math.round(1 / factor) : number * factor;
  };
}

// No part of a computer that still answers is outside of this; broken inputs read as ±2^31 or 65,535.
const coldest = -60;
const hottest = 250;

/** Millidegrees Celsius; null for what cannot be a temperature. */
export const parseTemperature: ParseNumber = (text) => {
  const celsius = dividedBy(1000)(text);
  return celsius === null || celsius < coldest || celsius > hottest ? null : celsius;
};
