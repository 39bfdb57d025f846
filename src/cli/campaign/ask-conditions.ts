import { err, ok, type Result } from '../../lib/result.ts';
import type { Condition } from '../../model/campaign.ts';
import type { ConditionAnswer } from '../../model/sitting.ts';
import type { Operator } from '../../runner/by-hand/operator.ts';
import { parseTemperature } from '../../suite/quantity.ts';
import { askLine } from '../ask-line.ts';
import { printError } from '../print.ts';

/**
 * An answer to each condition: as given by option, else asked for, a temperature until it is one. Empty, and where nobody can be
 * asked, it is recorded as not told. The error is about an option.
 */
export async function askConditions(
  conditions: readonly Condition[],
  given: Readonly<Record<string, string>>,
  operator: Operator | null,
): Promise<Result<readonly ConditionAnswer[], string>> {
  const fault = optionFault(conditions, given);
  if (fault !== null) return err(fault);
  const answers: ConditionAnswer[] = [];
  for (const condition of conditions) {
    const own = given[condition.id];
    if (own !== undefined) answers.push(answer(condition, own));
    else answers.push(operator === null ? answer(condition, '') : await ask(condition, operator));
  }
  return ok(answers);
}

/** What is wrong with the answers given by option; null when nothing is. */
export function optionFault(
  conditions: readonly Condition[],
  given: Readonly<Record<string, string>>,
): string | null {
  for (const [id, text] of Object.entries(given)) {
    const condition = conditions.find((one) => one.id === id);
    if (condition === undefined) {
      const known = conditions.map((one) => one.id).join(', ') || 'none';
      return `option --condition: the campaign asks for no ${id}; it asks for ${known}`;
    }
    const parsed = condition.kind === 'temperature' ? parseTemperature(text) : ok(0);
    if (!parsed.ok) return `option --condition ${id}: ${parsed.error}`;
  }
  return null;
}

async function ask(condition: Condition, operator: Operator): Promise<ConditionAnswer> {
  const example = condition.kind === 'temperature' ? ', such as 22 °C' : '';
  for (;;) {
    const text = await askLine(operator, `${condition.prompt}${example} (Enter: not known): `);
    if (text === null || text === '') return answer(condition, '');
    const parsed = condition.kind === 'temperature' ? parseTemperature(text) : ok(0);
    if (parsed.ok) return answer(condition, text);
    printError(parsed.error);
  }
}

/** Of a text that was checked before. */
function answer({ id, prompt, kind }: Condition, text: string): ConditionAnswer {
  const parsed = kind === 'temperature' && text !== '' ? parseTemperature(text) : null;
  const celsius = parsed?.ok === true ? parsed.value : null;
  return { id, prompt, text: text === '' ? null : text, celsius };
}

/** The temperature of the room: the answer called `ambient` or `room`; another temperature may be that of anything. */
export function ambientAmong(answers: readonly ConditionAnswer[]): number | null {
  return answers.find(({ id }) => id === 'ambient' || id === 'room')?.celsius ?? null;
}
