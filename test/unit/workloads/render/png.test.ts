import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { encodePng } from '../../../../src/workloads/render/png.ts';
import { needs } from '../../../setup/needs.ts';

const python = needs.program('python3');

// A reader of its own: checks signature, chunk lengths and CRCs, undoes the compression, prints size and pixels.
const reader = `
import sys, struct, zlib
data = sys.stdin.buffer.read()
assert data[:8] == b'\\x89PNG\\r\\n\\x1a\\n'
at, packed, names = 8, b'', []
while at < len(data):
    length, name = struct.unpack('>I4s', data[at:at + 8])
    body = data[at + 8:at + 8 + length]
    assert struct.unpack('>I', data[at + 8 + length:at + 12 + length])[0] == zlib.crc32(name + body)
    names.append(name.decode())
    if name == b'IHDR': width, height, depth, colour = struct.unpack('>IIBB', body[:10])
    if name == b'IDAT': packed += body
    at += 12 + length
raw = zlib.decompress(packed)
rows = [raw[r * (3 * width + 1):(r + 1) * (3 * width + 1)] for r in range(height)]
assert len(raw) == height * (3 * width + 1) and all(row[0] == 0 for row in rows)
print(names, width, height, depth, colour, b''.join(row[1:] for row in rows).hex())
`;

describe('a PNG file', () => {
  it.skipIf(python.missing)('is read back by an independent reader', () => {
    const [width, height] = [7, 5];
    const pixels = Uint8Array.from(
      { length: 3 * width * height },
      (_, index) => (index * 37) & 255,
    );
    const input = encodePng(width, height, pixels);
    const found = execFileSync(python.path, ['-c', reader], { input, encoding: 'utf8' });
    const expected = Buffer.from(pixels).toString('hex');
    expect(found.trim()).toBe(`['IHDR', 'sRGB', 'IDAT', 'IEND'] 7 5 8 2 ${expected}`);
  });
});
