import { err, ok, type Result } from '../../../lib/result.ts';

const plain = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/** A frame's time: a positive plain number with a decimal point; the error is a clause about the text. */
export function parseFrameTime(text: string): Result<number, string> {
  const trimmed = text.trim();
  if (trimmed === '') return err('is empty; expected a number');
  const shown = JSON.stringify(trimmed.length > 40 ? `${trimmed.slice(0, 40)}…` : trimmed);
  if (/^[+-]?\d+,\d+$/.test(trimmed)) {
    const point = trimmed.replace(',', '.');
    return err(
      `holds ${shown} with a decimal comma; expected a decimal point, ${point}: set the point in the options of the program`,
    );
  }
  if (!plain.test(trimmed)) return err(`holds ${shown}; expected a plain number such as 16.67`);
  const value = Number(trimmed);
  if (value > 0 && Number.isFinite(value)) return ok(value);
  return err(`holds ${shown}; a frame takes a finite time above zero`);
}
