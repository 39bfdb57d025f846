import { z } from 'zod';
import { campaignJsonSchema } from '../campaign/json-schema.ts';
import { baselinesDefinition } from '../model/schemas/baselines-schema.ts';
import { comparisonDefinition } from '../model/schemas/comparison-schema.ts';
import { effectsDefinition } from '../model/schemas/effects-schema.ts';
import { endNoticeDefinition } from '../model/schemas/end-notice-schema.ts';
import { exclusionRecordSchema } from '../model/schemas/exclusion-schema.ts';
import { gateDefinition } from '../model/schemas/gate-schema.ts';
import { historyDefinition } from '../model/schemas/history-schema.ts';
import { inventoryDifferencesDefinition } from '../model/schemas/inventory-differences-schema.ts';
import { inventorySchemaDefinition } from '../model/schemas/inventory-schema.ts';
import { precisionStudySchema } from '../model/schemas/precision-schema.ts';
import { reportDefinition } from '../model/schemas/report-schema.ts';
import { correctionRecordSchema, runRecordSchema } from '../model/schemas/run-schema.ts';
import { sittingFileSchema } from '../model/schemas/sitting-schema.ts';
import { telemetryLineSchema } from '../model/schemas/telemetry-schema.ts';
import { worthDefinition } from '../model/schemas/worth-schema.ts';
import { shippedCatalog } from '../model/shipped-catalog.ts';
import { suiteJsonSchema } from '../suite/json-schema.ts';

export type FileKind =
  | 'suite'
  | 'campaign'
  | 'sitting'
  | 'inventory'
  | 'run'
  | 'correction'
  | 'telemetry'
  | 'precision'
  | 'exclusion'
  | 'comparison'
  | 'effects'
  | 'inventory-differences'
  | 'worth'
  | 'report'
  | 'gate'
  | 'baselines'
  | 'history'
  | 'notice';

/** JSON Schema (2020-12) of a file, from the definition that validates it. `run` and `correction` are lines of `runs.jsonl`, `exclusion` is one of `exclusions.jsonl`, `comparison` what `compare --json` prints, `worth` what `worth --json` prints, `effects` what `effects --json` does, `report` what `report --json` does, `gate` what `gate --json` does, `baselines` the file of baselines, `history` what `history --json` prints, `inventory-differences` what `inventory --against --json` does, `notice` what is told of a sitting's end. */
export function fileSchema(kind: FileKind): object {
  switch (kind) {
    case 'suite':
      return suiteJsonSchema(shippedCatalog);
    case 'campaign':
      return campaignJsonSchema();
    case 'sitting':
      return z.toJSONSchema(sittingFileSchema, { io: 'input' });
    case 'inventory':
      return z.toJSONSchema(inventorySchemaDefinition, { io: 'input' });
    case 'run':
      return withSum(z.toJSONSchema(runRecordSchema, { io: 'input' }));
    case 'correction':
      return withSum(z.toJSONSchema(correctionRecordSchema, { io: 'input' }));
    case 'precision':
      return withSum(z.toJSONSchema(precisionStudySchema, { io: 'input' }));
    case 'exclusion':
      return withSum(z.toJSONSchema(exclusionRecordSchema, { io: 'input' }));
    case 'comparison':
      return z.toJSONSchema(comparisonDefinition, { io: 'input' });
    case 'effects':
      return z.toJSONSchema(effectsDefinition, { io: 'input' });
    case 'inventory-differences':
      return z.toJSONSchema(inventoryDifferencesDefinition, { io: 'input' });
    case 'worth':
      return z.toJSONSchema(worthDefinition, { io: 'input' });
    case 'report':
      return z.toJSONSchema(reportDefinition, { io: 'input' });
    case 'gate':
      return z.toJSONSchema(gateDefinition, { io: 'input' });
    case 'baselines':
      return z.toJSONSchema(baselinesDefinition, { io: 'input' });
    case 'history':
      return z.toJSONSchema(historyDefinition, { io: 'input' });
    case 'notice':
      return z.toJSONSchema(endNoticeDefinition, { io: 'input' });
    case 'telemetry':
      return z.toJSONSchema(telemetryLineSchema, { io: 'input' });
  }
}

/** A line of the journal ends in a checksum, which is not part of the record. */
function withSum(schema: z.core.JSONSchema.JSONSchema): object {
  const sum = {
    type: 'string',
    pattern: '^[0-9a-f]{32}$',
    description: 'checksum over the line before it and this line',
  };
  return {
    ...schema,
    properties: { ...schema.properties, sum },
    required: [...(schema.required ?? []), 'sum'],
  };
}
