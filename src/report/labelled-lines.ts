/**
 * Lines of at most `width` columns, broken at spaces; the first begins with `first`, the others with as many spaces.
 * A word longer than a line is cut: nothing may run over the edge.
 */
export function labelledLines(text: string, first: string, width: number): readonly string[] {
  const room = Math.max(8, width - first.length);
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/ +/).flatMap((part) => pieces(part, room))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (longer.length <= room) {
      line = longer;
      continue;
    }
    lines.push(line);
    line = word;
  }
  if (line !== '' || lines.length === 0) lines.push(line);
  const indent = ' '.repeat(first.length);
  return lines.map((part, index) => `${index === 0 ? first : indent}${part}`.trimEnd());
}

function pieces(word: string, room: number): string[] {
  if (word.length <= room) return [word];
  return [word.slice(0, room), ...pieces(word.slice(room), room)];
}
