import { createHash } from 'node:crypto';

/**
 * A text of two lines of JSON, for what can be made anew at any time: what the content is about, with the SHA-256 of the second line;
 * the content. Torn, damaged or of something else, it reads as absent.
 */
export function renderSummed(about: object, content: unknown): string {
  const second = JSON.stringify(content);
  return `${JSON.stringify({ ...about, sha256: sha256(second) })}\n${second}\n`;
}

/** The decoded content, as it was given to `renderSummed` with the same `about`; null where it is anything else. */
export function parseSummed(bytes: Buffer, about: object): unknown {
  const end = bytes.indexOf('\n');
  if (end === -1 || bytes.at(-1) !== 10) return null;
  const second = bytes.subarray(end + 1, bytes.length - 1);
  const head = JSON.stringify({ ...about, sha256: sha256(second) });
  return head === bytes.toString('utf8', 0, end) ? JSON.parse(second.toString()) : null;
}

function sha256(text: string | Uint8Array): string {
  return createHash('sha256').update(text).digest('hex');
}
