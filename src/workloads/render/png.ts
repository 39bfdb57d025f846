import { crc32, deflateSync } from 'node:zlib';

/** An 8-bit RGB picture as a PNG file (ISO/IEC 15948), marked as sRGB. `pixels` holds 3 bytes each, row by row. */
export function encodePng(width: number, height: number, pixels: Uint8Array): Uint8Array {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  // 8 bits a sample, truecolour, the one compression and filter method, not interlaced.
  header.set([8, 2, 0, 0, 0], 8);
  const rowBytes = 3 * width;
  const rows = Buffer.alloc(height * (rowBytes + 1));
  for (let row = 0; row < height; row += 1) {
    // Each row starts with its filter type: 0, none.
    rows.set(pixels.subarray(row * rowBytes, (row + 1) * rowBytes), row * (rowBytes + 1) + 1);
  }
  const signature = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);
  return Buffer.concat([
    signature,
    chunk('IHDR', header),
    chunk('sRGB', Uint8Array.of(0)),
    chunk('IDAT', deflateSync(rows)),
    chunk('IEND', new Uint8Array()),
  ]);
}

/** Length, type, data, and the CRC-32 of type and data. */
function chunk(type: string, data: Uint8Array): Uint8Array {
  const bytes = Buffer.alloc(12 + data.length);
  bytes.writeUInt32BE(data.length, 0);
  bytes.write(type, 4, 'latin1');
  bytes.set(data, 8);
  bytes.writeUInt32BE(crc32(bytes.subarray(4, 8 + data.length)), 8 + data.length);
  return bytes;
}
