import { execFileSync } from 'node:child_process';
import { createCipheriv, createDecipheriv } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { encryptSegment } from '../../../../src/workloads/cipher/encrypt-segment.ts';
import { makeCorpus } from '../../../../src/workloads/corpus/corpus.ts';
import { needs } from '../../../setup/needs.ts';

const openssl = needs.program('openssl');
const hex = (text: string) => Buffer.from(text, 'hex');
const key = Buffer.from(Array.from({ length: 32 }, (_, index) => index));
const nonceOf = (length: number, segment: number) => {
  const nonce = Buffer.alloc(length);
  nonce.writeUInt32BE(segment);
  return nonce;
};

describe('encryption', () => {
  it('by AES-256-CTR gives the example of NIST SP 800-38A, F.5.5', () => {
    // The values as quoted in several public test suites; the standard itself was not at hand.
    const cipher = createCipheriv(
      'aes-256-ctr',
      hex('603deb1015ca71be2b73aef0857d77811f352c073b6108d72d9810a30914dff4'),
      hex('f0f1f2f3f4f5f6f7f8f9fafbfcfdfeff'),
    );
    const plain = hex(
      '6bc1bee22e409f96e93d7e117393172aae2d8a571e03ac9c9eb76fac45af8e5130c81c46a35ce411e5fbc1191a0a52eff69f2445df4f9b17ad2b417be66c3710',
    );
    expect(cipher.update(plain).toString('hex')).toBe(
      '601ec313775789a5b7a7f504bbf3d228f443e3ca4d62b59aca84e990cacaf5c52b0930daa23de94ce87017ba2d84988ddfc9c58db67aada613c2dd08457941a6',
    );
  });

  it.skipIf(openssl.missing)('in place equals one long key stream from the openssl program', () => {
    const [size, passes, segment] = [4096, 5, 0x01020304];
    const buffer = Buffer.from(makeCorpus('mixed', size, 1));
    const expected = Buffer.from(buffer);
    // The key stream is what zeros encrypt to; every pass takes the next stretch of it.
    const stream = execFileSync(
      openssl.path,
      [
        'enc',
        '-aes-256-ctr',
        '-K',
        key.toString('hex'),
        '-iv',
        nonceOf(16, segment).toString('hex'),
      ],
      { input: Buffer.alloc(size * passes) },
    );
    stream.forEach((byte, index) => {
      expected[index % size] = (expected[index % size] ?? 0) ^ byte;
    });
    expect(encryptSegment(buffer, 'aes-256-ctr', segment, passes)).toHaveLength(0);
    expect(Buffer.compare(buffer, expected)).toBe(0);
  });

  it.each(['aes-256-gcm', 'chacha20-poly1305'] as const)(
    'by %s is undone by decryption, tag checked',
    (name) => {
      const buffer = makeCorpus('text', 5000, 1).slice();
      const tag = encryptSegment(buffer, name, 3, 1);
      const decipher = createDecipheriv(name as 'aes-256-gcm', key, nonceOf(12, 3), {
        authTagLength: 16,
      });
      decipher.setAuthTag(tag);
      const plain = Buffer.concat([decipher.update(buffer), decipher.final()]);
      expect(Buffer.compare(plain, makeCorpus('text', 5000, 1))).toBe(0);
    },
  );

  it('of different segments and passes differs', () => {
    const results = [
      [1, 1],
      [2, 1],
      [1, 2],
    ].map(([segment = 0, passes = 0]) => {
      const buffer = new Uint8Array(64);
      encryptSegment(buffer, 'aes-256-ctr', segment, passes);
      return Buffer.from(buffer).toString('hex');
    });
    expect(new Set(results).size).toBe(3);
  });
});
