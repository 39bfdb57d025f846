/** Pointers to the properties that have no description. */
export function undescribed(node: unknown, pointer: string): string[] {
  if (typeof node !== 'object' || node === null) return [];
  return Object.entries(node).flatMap(([key, value]) => {
    const missing =
      key === 'properties'
        ? Object.entries(value as object)
            .filter(([, property]) => !('description' in property))
            .map(([name]) => `${pointer}/${name}`)
        : [];
    return [...missing, ...undescribed(value, `${pointer}/${key}`)];
  });
}
