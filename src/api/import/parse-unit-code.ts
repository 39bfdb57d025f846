import type { Result } from '../../lib/result.ts';
import { ok } from '../../lib/result.ts';
import type { UnitMeaning } from '../../model/unit.ts';
import { parseUnit } from '../../suite/unit-text.ts';

const baseCodes = ['s', 'By', 'By/s', 'Hz', 'J', 'W', 'Cel', '1'];
const annotation = /^\{[A-Za-z][A-Za-z0-9._-]{0,30}\}(?:\/s)?$/;

/** A unit as an export writes it (a UCUM code: `By/s`, `{points}`), or as people do (`MB/s`, `points`). */
export function parseUnitCode(text: string): Result<UnitMeaning, string> {
  if (baseCodes.includes(text) || annotation.test(text)) return ok({ code: text, factor: 1 });
  return parseUnit(text);
}
