import { err, ok, type Result } from '../../lib/result.ts';
import type { ParameterRule, ShippedName } from '../../model/shipped.ts';
import { shippedCatalog } from '../../model/shipped-catalog.ts';
import type { Parameters } from '../../model/suite.ts';

/** Parameters from the program's one argument, checked against the catalog; the error is a sentence for stderr. */
export function parseParameters(
  name: ShippedName,
  argument: string | undefined,
): Result<Parameters, string> {
  const rules = shippedCatalog[name].parameters;
  const names = Object.keys(rules);
  const expected = `expected one argument, a JSON object of ${names.join(', ')}`;
  if (argument === undefined) return err(`no parameters: ${expected}`);
  const written = parseObject(argument);
  if (written === null) return err(`parameters are not a JSON object: ${expected}`);
  const unknown = Object.keys(written).find((key) => !Object.hasOwn(rules, key));
  if (unknown !== undefined) return err(`unknown parameter ${unknown}: ${expected}`);
  const parameters: Record<string, number | string> = {};
  for (const [key, rule] of Object.entries(rules)) {
    const value = written[key];
    const wanted = faultOf(rule, value);
    if (wanted !== null)
      return err(`parameter ${key} is ${JSON.stringify(value) ?? 'missing'}, expected ${wanted}`);
    parameters[key] = value as number | string;
  }
  return ok(parameters);
}

/** A number among the parameters: a size in bytes, a count. */
export function numberIn(parameters: Parameters, key: string): number {
  const value = parameters[key];
  if (typeof value !== 'number') throw new Error(`internal error: parameter ${key} is no number`);
  return value;
}

/** A word among the parameters: one of the catalog's choices. */
export function wordIn(parameters: Parameters, key: string): string {
  const value = parameters[key];
  if (typeof value !== 'string') throw new Error(`internal error: parameter ${key} is no word`);
  return value;
}

function parseObject(text: string): Readonly<Record<string, unknown>> | null {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null && !Array.isArray(value)
      ? (value as Record<string, unknown>)
      : null;
  } catch {
    return null;
  }
}

/** What was expected instead, or null where the value is fine. */
function faultOf(rule: ParameterRule, value: unknown): string | null {
  if (rule.kind === 'choice') {
    const isChoice = typeof value === 'string' && rule.choices.includes(value);
    return isChoice ? null : `one of ${rule.choices.join(', ')}`;
  }
  const min = rule.kind === 'threads' ? 1 : rule.min;
  const fits =
    typeof value === 'number' && Number.isInteger(value) && value >= min && value <= rule.max;
  return fits ? null : `a whole number from ${min} to ${rule.max}`;
}
