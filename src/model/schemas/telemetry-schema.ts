import { z } from 'zod';
import {
  type RunFigure,
  type RunTelemetry,
  type Sample,
  type SensorTable,
  sampleSchema,
  sensorAbsences,
  sensorKinds,
  sensorTableSchema,
  summaryAbsences,
  type TelemetryCost,
} from '../telemetry.ts';
import { timestampSchema } from './timestamp-schema.ts';

const count = z.int().min(0);
const seconds = z.number().min(0);
const id = z.string().min(1);
const share = z.number().min(0).nullable();

const sensorSchema = z.strictObject({
  id: id.describe('of driver, device and label; the same after a reboot'),
  kind: z.enum(sensorKinds),
  unit: z.string().describe('UCUM code'),
  label: z.string(),
  source: z.string().describe('where it is read from in this boot'),
  nature: z.enum(['gauge', 'counter']),
  everySeconds: seconds.describe('read no more often than this'),
  critical: z.number().nullable().describe('degrees Celsius'),
  range: z.number().min(0).nullable().describe('value at which a counter starts over'),
});

/** What the ids in the samples mean. */
export const sensorTableDefinition: z.ZodType<SensorTable> = z.strictObject({
  schema: z.literal(sensorTableSchema),
  at: timestampSchema,
  sensors: z.array(sensorSchema),
  absent: z.array(
    z.strictObject({
      id: id.nullable(),
      label: z.string(),
      source: z.string(),
      absent: z.enum(sensorAbsences),
    }),
  ),
  main: z
    .strictObject({
      sensors: z.array(id).min(1),
      nature: z.enum(['die', 'package', 'cores', 'control', 'board']),
      critical: z.number().nullable(),
      passedOver: z.array(id),
    })
    .nullable()
    .describe('sensors whose hottest is the temperature of the processor'),
});

export const sampleDefinition: z.ZodType<Sample> = z.strictObject({
  schema: z.literal(sampleSchema),
  atSeconds: seconds.describe('monotonic, since this part of the sitting began'),
  at: timestampSchema,
  values: z.record(id, z.number()).describe('by sensor, in its unit'),
  absent: z.record(id, z.enum(sensorAbsences)).exactOptional(),
});

/** A line of `telemetry.jsonl`. */
export const telemetryLineSchema: z.ZodType<SensorTable | Sample> = z
  .union([sensorTableDefinition, sampleDefinition])
  .describe('A line of telemetry.jsonl: a table of sensors, then samples of them');

const figureSchema = z.number().nullable();
const figures = {
  startTemperature: figureSchema.describe('degrees Celsius'),
  meanTemperature: figureSchema.describe('degrees Celsius'),
  maxTemperature: figureSchema.describe('degrees Celsius'),
  meanClockHz: figureSchema.describe('over all CPUs, idle ones too'),
  meanFastestClockHz: figureSchema.describe('of whichever CPU was fastest'),
  energyJoules: share.describe('all processor packages'),
  throttleEvents: share,
  throttleSeconds: share,
  stealShare: share,
  cpuPressureSome: share,
  memoryPressureSome: share,
  memoryPressureFull: share,
  ioPressureSome: share,
  ioPressureFull: share,
} satisfies Record<RunFigure, z.ZodType<number | null>>;
const figureNames = Object.keys(figures) as RunFigure[];

/** What the sensors say of one run, for its line in `runs.jsonl`. */
export const runTelemetrySchema: z.ZodType<RunTelemetry> = z.strictObject({
  ...figures,
  samples: count.describe('within the run'),
  absent: z
    .partialRecord(z.enum(figureNames), z.enum(summaryAbsences))
    .describe('why a figure is null'),
});

export const telemetryCostSchema: z.ZodType<TelemetryCost> = z
  .strictObject({
    samples: count,
    skipped: count.describe('times that passed without a sample'),
    intervalSeconds: seconds,
    meanWallSeconds: seconds,
    maxWallSeconds: seconds,
    meanCpuSeconds: seconds.nullable().describe('of our process; an upper bound'),
    lost: count.describe('lines that could not be written'),
  })
  .describe('what sampling itself took');
