import { type CipherGCM, type CipherGCMTypes, createCipheriv } from 'node:crypto';

export type CipherName = 'aes-256-ctr' | 'aes-256-gcm' | 'chacha20-poly1305';

/** Small enough for a second-level cache: the figure is the cipher's, not the memory's. */
export const segmentBytes: number = 128 * 1024;

/** 32 bytes, 00 to 1f. */
const key: Uint8Array = Uint8Array.from({ length: 32 }, (_, index) => index);

/**
 * Encrypts a segment in place `passes` times over with one stream of the cipher: pass p takes the key stream where
 * pass p - 1 ended. The nonce is the segment's number, big-endian, in its first four bytes. Returns the
 * authentication tag over all passes, empty for a mode without one.
 */
export function encryptSegment(
  segment: Uint8Array,
  name: CipherName,
  number: number,
  passes: number,
): Uint8Array {
  const cipher = startCipher(name, number);
  // Copying within memory of one's own is faster than into shared memory.
  const own = segment.slice();
  for (let pass = 0; pass < passes; pass += 1) own.set(cipher.update(own));
  cipher.final();
  segment.set(own);
  return name === 'aes-256-ctr' ? new Uint8Array() : (cipher as CipherGCM).getAuthTag();
}

function startCipher(name: CipherName, number: number): ReturnType<typeof createCipheriv> {
  const nonce = new Uint8Array(name === 'aes-256-ctr' ? 16 : 12);
  new DataView(nonce.buffer).setUint32(0, number);
  if (name === 'aes-256-ctr') return createCipheriv(name, key, nonce);
  return createCipheriv(name as CipherGCMTypes, key, nonce, { authTagLength: 16 });
}
