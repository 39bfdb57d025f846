import { createRequire } from 'node:module';

/** Version of this package. */
export const toolVersion: string = (
  createRequire(import.meta.url)('../../package.json') as { version: string }
).version;
