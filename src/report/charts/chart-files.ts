const longest = 120;

/**
 * A file name without ending for each name of a chart: letters, digits, dots and dashes. Names that come to the same, on a disk that
 * does not tell capitals apart too, are numbered; so a chart has the same file whether drawn alone or with all.
 */
export function chartFiles(names: readonly string[]): ReadonlyMap<string, string> {
  const taken = new Set<string>();
  const files = new Map<string, string>();
  for (const name of names) {
    const plain =
      name
        .replace(/[^a-zA-Z0-9._-]+/g, '-')
        .replace(/^[.-]+/, '')
        .slice(0, longest) || 'chart';
    let file = plain;
    for (let more = 2; taken.has(file.toLowerCase()); more += 1) file = `${plain}-${more}`;
    taken.add(file.toLowerCase());
    files.set(name, file);
  }
  return files;
}
