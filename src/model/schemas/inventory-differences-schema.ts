import { z } from 'zod';
import { type InventoryDifferences, inventoryDifferencesSchema } from '../inventory-differences.ts';
import { partIds } from '../rules/parts.ts';
import { timestampSchema } from './timestamp-schema.ts';

const text = z.string();

/** What `steadyrig inventory --against --json` prints. */
export const inventoryDifferencesDefinition: z.ZodType<InventoryDifferences> = z
  .strictObject({
    schema: z.literal(inventoryDifferencesSchema),
    before: timestampSchema,
    after: timestampSchema,
    sitting: text.nullable().describe('that the earlier inventory is of'),
    parts: z
      .array(
        z.strictObject({
          part: z.enum(partIds),
          differences: z.array(
            z.strictObject({
              path: text.describe('such as memory.modules.size: of a list, all its items at once'),
              from: text.nullable().describe('null: nothing there'),
              to: text.nullable(),
            }),
          ),
        }),
      )
      .describe('most telling first'),
    unread: z
      .array(z.strictObject({ path: text, reason: text }))
      .describe('what could not be read at both looks'),
    alike: z.int().min(0).describe('readings alike at both looks'),
  })
  .describe('What changed in a machine between two looks; what moves by itself is left out');
