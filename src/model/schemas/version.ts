/** Newest version of each file that this tool reads and writes. */
export const schemaVersions = {
  run: 1,
  correction: 1,
  sitting: 1,
  inventory: 1,
  precision: 1,
  exclusion: 1,
} as const;
export type SchemaName = keyof typeof schemaVersions;

/**
 * A message when a file was written by a newer tool than this one, else null. Older versions stay readable; a newer
 * one may hold what this tool would silently misread.
 */
export function tooNew(value: unknown, name: SchemaName): string | null {
  if (typeof value !== 'object' || value === null || !('schema' in value)) return null;
  const found = /^steadyrig\/([a-z]+)\/(\d{1,9})$/.exec(String(value.schema));
  if (found === null || found[1] !== name || Number(found[2]) <= schemaVersions[name]) return null;
  return `written as ${found[0]} by a newer version of steadyrig; this one reads up to steadyrig/${name}/${schemaVersions[name]}: use the newer version`;
}
