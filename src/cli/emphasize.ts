import { styleText } from 'node:util';

/** Words that mean trouble stand out; the wording alone says it too. */
const alarming = /(?<!-)\b(?:FAILED|CHANGED|refuse|damaged|missing|extra)\b(?=[ ,:)]|$)/gm;
const doubtful = /^(?:warn(?= \()|! .*)|(?<= {2})! .*/gm;

/** The text with colour where the stream is a terminal that wants it (NO_COLOR and FORCE_COLOR are respected). */
export function emphasize(text: string, stream: NodeJS.WriteStream): string {
  // One format a call: with a list of them Node 20 colours pipes as well.
  return text
    .replace(alarming, (word) => styleText('red', styleText('bold', word, { stream }), { stream }))
    .replace(doubtful, (word) => styleText('yellow', word, { stream }));
}
