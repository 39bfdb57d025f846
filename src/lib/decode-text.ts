import { isUtf8 } from 'node:buffer';
import { err, ok, type Result } from './result.ts';

/** The text of UTF-8 bytes, byte order mark kept; the error is a clause that names the first wrong byte. */
export function decodeText(bytes: Uint8Array): Result<string, string> {
  const utf16 =
    (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  if (utf16) return err('is UTF-16; expected UTF-8: save it as UTF-8');
  if (isUtf8(bytes)) return ok(new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes));
  const offset = firstWrongByte(bytes);
  const byte = (bytes[offset] ?? 0).toString(16).toUpperCase().padStart(2, '0');
  return err(
    `is not UTF-8: byte 0x${byte} at offset ${offset} fits no character; save it as UTF-8`,
  );
}

/**
 * Halves the stretch in which decoding first fails, then goes back to where the character in question begins:
 * one that is cut off at the end of a stretch does not count as wrong.
 */
function firstWrongByte(bytes: Uint8Array): number {
  let good = 0;
  let bad = bytes.length;
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2);
    if (decodes(bytes.subarray(0, middle))) good = middle;
    else bad = middle;
  }
  while (!isUtf8(bytes.subarray(0, good))) good -= 1;
  return good;
}

function decodes(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: true });
    return true;
  } catch {
    return false;
  }
}
