/** Advances of Source Sans 3, in parts of the font size: the widest of each group, so that nothing is drawn wider than it is taken for. */
const advances: readonly (readonly [em: number, characters: string])[] = [
  [0.26, " ',.:;ijlI|"],
  [0.31, '!f()[]{}-'],
  [0.36, 't/\\r°'],
  [0.46, '*s"?zJcx'],
  [0.5, 'vyYFL#$+0123456789<=>^_aegk~–−×'],
  [0.57, 'XSZEVACT`houbnpdqPR'],
  [0.62, 'KB&DG→←±'],
  [0.67, 'HNUOQ'],
  [0.85, 'wMW%m@'],
  [0.95, '…'],
];
const known = new Map(
  advances.flatMap(([em, characters]) => [...characters].map((one) => [one, em] as const)),
);

/** Letters of other scripts, whose fonts we do not know: those of the East and pictures are as wide as they are high. */
function advanceOf(character: string): number {
  return known.get(character) ?? ((character.codePointAt(0) ?? 0) >= 0x1100 ? 1.05 : 0.7);
}

/** How wide a line is drawn at most; the titles' semibold is 4 % wider, and asks for that itself. */
export function textWidth(text: string, fontSize: number): number {
  let em = 0;
  for (const character of text) em += advanceOf(character);
  return em * fontSize;
}

export function widest(texts: readonly string[], fontSize: number): number {
  return Math.max(0, ...texts.map((text) => textWidth(text, fontSize)));
}

/** The text as far as it fits, with an ellipsis where something is missing. */
export function cutToWidth(text: string, fontSize: number, width: number): string {
  if (textWidth(text, fontSize) <= width) return text;
  const room = width - textWidth('…', fontSize);
  let kept = '';
  let used = 0;
  for (const character of text) {
    used += textWidth(character, fontSize);
    if (used > room) break;
    kept += character;
  }
  return `${kept.trimEnd()}…`;
}

/** Lines broken at blanks, at most `most` of them, the last one cut where more is left. */
export function wrapToWidth(
  text: string,
  fontSize: number,
  { width, most }: { readonly width: number; readonly most: number },
): readonly string[] {
  const words = text.split(' ');
  const lines: string[] = [];
  while (words.length > 0 && lines.length < most - 1) {
    let line = words.shift() ?? '';
    while (words[0] !== undefined && textWidth(`${line} ${words[0]}`, fontSize) <= width)
      line = `${line} ${words.shift() ?? ''}`;
    lines.push(cutToWidth(line, fontSize, width));
  }
  return words.length === 0 ? lines : [...lines, cutToWidth(words.join(' '), fontSize, width)];
}
