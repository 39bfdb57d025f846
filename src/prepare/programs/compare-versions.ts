/**
 * The dotted numbers in what a program calls its version: `5.4.1` of `v5.4.1-alpha`; null where there are none.
 * A Debian epoch (`1:9.3`) is left out.
 */
export function versionNumbers(text: string): readonly number[] | null {
  const found = /\d+(?:\.\d+)*(?!\d*:)/.exec(text)?.[0];
  return found === undefined ? null : found.split('.').map(Number);
}

/** Whether a version is the least one or newer, part by part; parts that are missing count as 0. Null: not to be told. */
export function isAtLeast(version: string, least: string): boolean | null {
  const [own, wanted] = [versionNumbers(version), versionNumbers(least)];
  if (own === null || wanted === null) return null;
  for (let part = 0; part < Math.max(own.length, wanted.length); part += 1) {
    const difference = (own[part] ?? 0) - (wanted[part] ?? 0);
    if (difference !== 0) return difference > 0;
  }
  return true;
}
