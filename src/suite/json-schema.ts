import { z } from 'zod';
import type { ShippedCatalog } from '../model/shipped.ts';
import { suiteSchema } from './suite-schema.ts';

/**
 * JSON Schema (draft 2020-12) of a suite file, for editors and other tools; made from the definition that
 * validates. It cannot hold rules between keys, so a file that it accepts may still be refused.
 */
export function suiteJsonSchema(catalog: ShippedCatalog): Readonly<Record<string, unknown>> {
  const { $schema, ...schema } = z.toJSONSchema(suiteSchema(catalog), {
    target: 'draft-2020-12',
    io: 'input',
  });
  return {
    $schema,
    title: 'steadyrig suite',
    description: 'What is run, how often, with which cooldown and limits.',
    ...schema,
  };
}
