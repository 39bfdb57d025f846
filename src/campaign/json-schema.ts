import { z } from 'zod';
import { campaignSchema } from './campaign-schema.ts';

/**
 * JSON Schema (draft 2020-12) of a campaign file, for editors and other tools; made from the definition that
 * validates. It cannot hold rules between keys, so a file that it accepts may still be refused.
 */
export function campaignJsonSchema(): Readonly<Record<string, unknown>> {
  const { $schema, ...schema } = z.toJSONSchema(campaignSchema, {
    target: 'draft-2020-12',
    io: 'input',
  });
  return {
    $schema,
    title: 'steadyrig campaign',
    description: 'Which rigs are compared, what they are built from, what is to be answered.',
    ...schema,
  };
}
