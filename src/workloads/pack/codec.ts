import {
  brotliCompressSync,
  brotliDecompressSync,
  constants,
  gunzipSync,
  gzipSync,
} from 'node:zlib';

/** Blocks are compressed one by one, so that threads can share them; the last one may be shorter. */
export const blockBytes: number = 2 ** 20;

/** A way to compress a block on its own. */
export interface Codec {
  compress(block: Uint8Array, level: number): Uint8Array;
  decompress(packed: Uint8Array): Uint8Array;
}

const compressedChunk = 128 * 1024;
// A little more than a block, so that its end is found without room for a second chunk.
const restoredChunk = blockBytes + 64;

/** DEFLATE (RFC 1951) with gzip members (RFC 1952), which may follow one another in a file; checks its own CRC-32. */
export const gzipCodec: Codec = {
  compress: (block, level) => gzipSync(block, { level, chunkSize: compressedChunk }),
  decompress: (packed) => gunzipSync(packed, { chunkSize: restoredChunk }),
};

/** Brotli (RFC 7932) with a window as large as a block. */
export const brotliCodec: Codec = {
  compress: (block, level) =>
    brotliCompressSync(block, {
      chunkSize: compressedChunk,
      params: {
        [constants.BROTLI_PARAM_QUALITY]: level,
        [constants.BROTLI_PARAM_LGWIN]: 20,
        [constants.BROTLI_PARAM_SIZE_HINT]: block.length,
      },
    }),
  decompress: (packed) => brotliDecompressSync(packed, { chunkSize: restoredChunk }),
};
