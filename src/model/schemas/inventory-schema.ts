import { z } from 'zod';
import { absenceReasons, type Inventory, inventorySchema } from '../inventory.ts';
import { timestampSchema } from './timestamp-schema.ts';

const seconds = z.number().min(0);

const valueSchema = z
  .union([z.string(), z.number(), z.boolean(), z.array(z.string()), z.array(z.number())])
  .describe('base units for numbers');

const readingSchema = z.union([
  z
    .strictObject({
      value: valueSchema,
      unit: z.string().nullable().describe('UCUM code; null for names and switches'),
      source: z.string().describe('kernel path or program it was read from'),
    })
    .describe('a reading that was found'),
  z
    .strictObject({
      value: z.null(),
      absent: z.enum(absenceReasons).describe('why there is no value'),
      source: z.string().describe('where it was looked for'),
    })
    .describe('a reading that was not found'),
]);

const itemSchema = z.record(z.string(), readingSchema);

const sectionSchema = z.strictObject({
  readings: z.record(z.string(), readingSchema),
  items: z
    .record(z.string(), z.array(itemSchema))
    .describe('parts of which a rig may have several, in a stable order'),
});

/** `inventory.json`; the JSON Schema is made from this. Which names may stand in it is the inventory catalog's matter. */
export const inventorySchemaDefinition: z.ZodType<Inventory> = z.strictObject({
  schema: z.literal(inventorySchema),
  takenAt: timestampSchema,
  seconds,
  collectors: z.array(
    z.strictObject({
      name: z.string(),
      seconds,
      failure: z.string().nullable().describe('null when it worked'),
    }),
  ),
  sections: z.record(z.string(), sectionSchema).describe('by section name, in the order shown'),
});
