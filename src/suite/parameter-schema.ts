import { z } from 'zod';
import type { ParameterRule, ShippedWorkload } from '../model/shipped.ts';
import { either, mapOf, oneOf, orAmount, size, wholeNumber } from './fields.ts';
import type { WrittenParameters } from './written.ts';

/** Parameters of one shipped workload as a suite may state them; all optional. */
export function parameterSchema(workload: ShippedWorkload): z.ZodType<WrittenParameters> {
  const shape = Object.entries(workload.parameters).map(([name, rule]) => [
    name,
    ruleSchema(rule)
      .optional()
      .meta({ description: rule.meaning, default: defaultText(rule) }),
  ]);
  return mapOf(Object.fromEntries(shape) as Record<string, z.ZodType<number | string | undefined>>);
}

function ruleSchema(rule: ParameterRule): z.ZodType<number | string> {
  switch (rule.kind) {
    case 'integer':
      return orAmount(wholeNumber(rule.min, rule.max));
    case 'size':
      return orAmount(size([sizeText(rule.min), sizeText(rule.max)]));
    case 'choice':
      return oneOf(rule.choices);
    case 'threads': {
      const error = `\`all\` or a whole number of threads from 1 to ${rule.max}`;
      return either([orAmount(wholeNumber(1, rule.max)), z.literal('all', { error })], error);
    }
  }
}

function defaultText(rule: ParameterRule): number | string {
  return rule.kind === 'size' ? sizeText(rule.default) : rule.default;
}

/** The shortest exact way to write a number of bytes: `64 MiB`, `1000 B`. */
function sizeText(bytes: number): string {
  const units = ['TiB', 'GiB', 'MiB', 'KiB'] as const;
  const index = units.findIndex((_, place) => bytes % 1024 ** (4 - place) === 0);
  const unit = units[index];
  return unit === undefined ? `${bytes} B` : `${bytes / 1024 ** (4 - index)} ${unit}`;
}
