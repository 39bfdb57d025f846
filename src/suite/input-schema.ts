import { z } from 'zod';
import { generatedContents } from '../model/suite.ts';
import {
  either,
  id,
  inputPath,
  mapOf,
  oneOf,
  orAmount,
  sha256,
  size,
  wholeNumber,
} from './fields.ts';
import type { WrittenInput } from './written.ts';

const checksum = sha256.optional().describe('Checksum that it must have; left out, any will do.');

const file = mapOf({
  path: inputPath.describe(
    "File relative to the suite's folder, or one of your own by its absolute path.",
  ),
  sha256: checksum,
});

const generated = mapOf({
  generate: oneOf(generatedContents).describe(
    'Content made by steadyrig, the same bytes on every machine. `video`: raw YUV4MPEG2 frames; `c-source`: one C file; `table`: CSV rows with a heading.',
  ),
  size: orAmount(size(['1 KiB', '1 TiB'])).describe('How much of it.'),
  seed: wholeNumber(0, 2 ** 32 - 1)
    .default(1)
    .describe('Another seed gives other content of the same kind.'),
  sha256: checksum,
});

const archive = mapOf({
  archive: inputPath.describe(
    'Archive (tar, tar.gz, zip), unpacked before the sitting; the input is the folder.',
  ),
  sha256: checksum,
});

const forms = '`{ path: FILE }`, `{ generate: CONTENT, size: SIZE }` or `{ archive: FILE }`';

/** What a program reads, by name. */
export const inputsSchema: z.ZodType<Readonly<Record<string, WrittenInput>>> = z.record(
  id,
  either([file, generated, archive], forms),
  { error: `a map of names to inputs, each ${forms}` },
);
