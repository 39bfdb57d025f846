import { err, ok, type Result } from '../../lib/result.ts';

const plain = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const zero = /^[+-]?[0.]+(?:[eE].*)?$/;

/** A finite number with a decimal point; the error is a clause about the text. Minus zero becomes zero. */
export function parseValue(text: string): Result<number, string> {
  const shown = `\`${text}\``;
  if (!plain.test(text)) return err(`${shown} ${fault(text)}`);
  const value = Number(text);
  if (!Number.isFinite(value)) return err(`${shown} is larger than a number here can be (1.8e308)`);
  if (value === 0 && !zero.test(text))
    return err(`${shown} is closer to zero than a number here can be (4.9e-324)`);
  return ok(value === 0 ? 0 : value);
}

function fault(text: string): string {
  const comma = /^([+-]?\d+),(\d+)$/.exec(text);
  if (comma !== null) {
    return `has a decimal comma; expected a decimal point, ${comma[1]}.${comma[2]}: export the figures with the number format of English or of the locale C`;
  }
  if (text === '') return 'is empty; expected a number: leave out rows without a figure';
  if (/^[+-]?[\d.,'’_\s\u066b\u066c]+$/.test(text)) {
    return 'is no plain number; expected digits with at most one decimal point, nothing between thousands';
  }
  return 'is no plain number; expected one such as 12.5 or 1.25e-3';
}
