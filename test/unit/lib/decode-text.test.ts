import fc from 'fast-check';
import { expect, it } from 'vitest';
import { decodeText } from '../../../src/lib/decode-text.ts';

it('keeps the text of UTF-8, byte order mark included', () => {
  expect(decodeText(Buffer.from('\ufeffcooldown: 50 °C'))).toEqual({
    ok: true,
    value: '\ufeffcooldown: 50 °C',
  });
});

it('names the first byte that is not UTF-8', () => {
  const latin1 = Buffer.from('title: Café\nother: é\n', 'latin1');
  expect(decodeText(latin1)).toEqual({
    ok: false,
    error: 'is not UTF-8: byte 0xE9 at offset 10 fits no character; save it as UTF-8',
  });
});

it('names a character that is cut off at the end of the file', () => {
  const cut = Buffer.from('a: é').subarray(0, 4);
  expect(decodeText(cut)).toMatchObject({ ok: false, error: expect.stringContaining('offset 3') });
});

it.each(['utf16le', 'swapped'])('says when a file is UTF-16 (%s)', (order) => {
  const bytes = Buffer.from('\ufeffsuite: a', 'utf16le');
  expect(decodeText(order === 'swapped' ? bytes.swap16() : bytes)).toEqual({
    ok: false,
    error: 'is UTF-16; expected UTF-8: save it as UTF-8',
  });
});

it('finds the same offset as looking at every byte in turn', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), fc.nat({ max: 50 }), (text, at) => {
      const good = Buffer.from(text).subarray(0, 1000);
      const before = Buffer.from(good.toString('utf8').slice(0, at).replaceAll('\ufffd', '?'));
      const bytes = Buffer.concat([before, Buffer.from([0xff]), good]);
      const result = decodeText(bytes);
      const expected =
        bytes[0] === 0xff && bytes[1] === 0xfe ? 'UTF-16' : `offset ${before.length} `;
      expect(result.ok ? '' : result.error).toContain(expected);
    }),
  );
});
