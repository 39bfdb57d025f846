import type { ParameterRule, ShippedName, ShippedWorkload } from './shipped.ts';

const mebibyte = 2 ** 20;

const seed: ParameterRule = {
  kind: 'integer',
  default: 1,
  min: 0,
  max: 2 ** 32 - 1,
  meaning: 'Seed of the generated input: the same seed gives the same bytes on every machine.',
};

const oneThread: ParameterRule = {
  kind: 'threads',
  default: 1,
  max: 1024,
  meaning: 'Threads that share the work, which stays the same whatever their number.',
};

const allThreads: ParameterRule = { ...oneThread, default: 'all' };

const content: ParameterRule = {
  kind: 'choice',
  default: 'mixed',
  choices: ['text', 'binary', 'mixed'],
  meaning:
    'What the generated input resembles: prose, program code and tables, or both with noise in between.',
};

function size(defaultMebibytes: number, meaning: string): ParameterRule {
  return {
    kind: 'size',
    default: defaultMebibytes * mebibyte,
    min: 64 * 1024,
    max: 4096 * mebibyte,
    meaning,
  };
}

function passes(count: number, meaning: string): ParameterRule {
  return { kind: 'integer', default: count, min: 1, max: 1_000_000, meaning };
}

/**
 * The programs shipped with the tool. Every figure is taken inside the program around the work alone: the start of
 * Node, making the input, starting threads, warming up the compiler and checking the result are outside it.
 * The defaults give about two seconds of work on a machine of moderate speed.
 */
export const shippedCatalog: Readonly<Record<ShippedName, ShippedWorkload>> = {
  deflate: {
    name: 'deflate',
    title: 'Deflate compression',
    summary:
      'Compresses generated data with zlib in independent blocks of 1 MiB, decompresses it again and compares. Integer work on tables of some 300 KiB; one thread by default. Speeds count uncompressed bytes.',
    parameters: {
      content,
      size: size(48, 'Data to compress, before compression.'),
      level: {
        kind: 'integer',
        default: 6,
        min: 1,
        max: 9,
        meaning: 'Compression level: 1 is fast, 9 is small.',
      },
      seed,
      threads: oneThread,
    },
    metrics: [
      {
        id: 'compression',
        pointer: '/compressionBytesPerSecond',
        unit: 'By/s',
        better: 'higher',
      },
      {
        id: 'decompression',
        pointer: '/decompressionBytesPerSecond',
        unit: 'By/s',
        better: 'higher',
      },
    ],
  },
  brotli: {
    name: 'brotli',
    title: 'Brotli compression',
    summary:
      'Compresses generated data with Brotli in independent blocks of 1 MiB, decompresses it again and compares. Larger tables than deflate, so caches count for more; one thread by default. Speeds count uncompressed bytes.',
    parameters: {
      content,
      size: size(40, 'Data to compress, before compression.'),
      level: {
        kind: 'integer',
        default: 5,
        min: 0,
        max: 11,
        meaning: 'Compression quality: 0 is fast, 11 is small and very slow.',
      },
      seed,
      threads: oneThread,
    },
    metrics: [
      {
        id: 'compression',
        pointer: '/compressionBytesPerSecond',
        unit: 'By/s',
        better: 'higher',
      },
      {
        id: 'decompression',
        pointer: '/decompressionBytesPerSecond',
        unit: 'By/s',
        better: 'higher',
      },
    ],
  },
  'path-trace': {
    name: 'path-trace',
    title: 'Path tracing',
    summary:
      'Renders a harbour at dusk by path tracing (spheres, triangles, diffuse, mirror and glass) and leaves image.png. Double-precision arithmetic and branches; all threads by default.',
    parameters: {
      width: { kind: 'integer', default: 480, min: 16, max: 7680, meaning: 'Pixels across.' },
      height: { kind: 'integer', default: 270, min: 16, max: 4320, meaning: 'Pixels down.' },
      samples: {
        kind: 'integer',
        default: 12,
        min: 1,
        max: 65_536,
        meaning: 'Light paths traced for each pixel.',
      },
      seed,
      threads: allThreads,
    },
    metrics: [
      { id: 'samples', pointer: '/samplesPerSecond', unit: '{samples}/s', better: 'higher' },
    ],
  },
  hash: {
    name: 'hash',
    title: 'Hashing',
    summary:
      'Hashes a buffer again and again with OpenSSL, which uses the instructions for hashing where the CPU has them. One thread by default.',
    parameters: {
      algorithm: {
        kind: 'choice',
        default: 'sha256',
        choices: ['sha256', 'sha512', 'sha3-256', 'blake2b512', 'sha1'],
        meaning: 'Hash function.',
      },
      size: size(16, 'Size of the buffer.'),
      passes: passes(192, 'How often the buffer is hashed; threads share the passes.'),
      seed,
      threads: oneThread,
    },
    metrics: [{ id: 'hashing', pointer: '/bytesPerSecond', unit: 'By/s', better: 'higher' }],
  },
  encrypt: {
    name: 'encrypt',
    title: 'Encryption',
    summary:
      'Encrypts a buffer in place again and again with OpenSSL, which uses the instructions for AES where the CPU has them. The figure is that of a Node program: OpenSSL’s results are allocated and copied on the way. One thread by default.',
    parameters: {
      cipher: {
        kind: 'choice',
        default: 'aes-256-ctr',
        choices: ['aes-256-ctr', 'aes-256-gcm', 'chacha20-poly1305'],
        meaning: 'Cipher and mode.',
      },
      size: size(16, 'Size of the buffer; threads share its segments of 128 KiB.'),
      passes: passes(384, 'How often the buffer is encrypted, each time with another nonce.'),
      seed,
      threads: oneThread,
    },
    metrics: [{ id: 'encryption', pointer: '/bytesPerSecond', unit: 'By/s', better: 'higher' }],
  },
  'memory-copy': {
    name: 'memory-copy',
    title: 'Memory copy',
    summary:
      'Copies between two buffers well beyond the last-level cache, to and fro, by all threads. The figure counts each copied byte once; the memory reads it and writes it, so moves at least twice that.',
    parameters: {
      size: size(
        256,
        'Size of each of the two buffers, shared out among the threads. Choose several times the last-level cache.',
      ),
      passes: passes(80, 'How often the buffer is copied.'),
      threads: allThreads,
    },
    metrics: [{ id: 'copying', pointer: '/bytesPerSecond', unit: 'By/s', better: 'higher' }],
  },
  'memory-latency': {
    name: 'memory-latency',
    title: 'Memory latency',
    summary:
      'Follows a random cycle through memory, one load depending on the last, over an area well beyond the last-level cache. One thread; the figure is the time of one load, address translation included.',
    parameters: {
      size: {
        kind: 'size',
        default: 256 * mebibyte,
        min: 4096,
        max: 4096 * mebibyte,
        meaning:
          'Area walked over, visiting each 64 bytes once a lap. A smaller one measures a cache instead, about 1 ns of the loop itself included; give it more laps.',
      },
      laps: {
        kind: 'integer',
        default: 2,
        min: 1,
        max: 1_000_000_000,
        meaning: 'How often the whole cycle is walked.',
      },
      seed,
    },
    metrics: [{ id: 'load', pointer: '/secondsPerLoad', unit: 's', better: 'lower' }],
  },
  'json-sort': {
    name: 'json-sort',
    title: 'JSON and sorting',
    summary:
      'Writes records as JSON, reads them back and sorts them by three keys: many small objects, strings and the garbage collector, as in everyday scripted programs.',
    parameters: {
      records: {
        kind: 'integer',
        default: 10_000,
        min: 100,
        max: 2_000_000,
        meaning: 'Records written, read and sorted in each pass.',
      },
      passes: passes(90, 'How often that is done; threads share the passes.'),
      seed,
      threads: oneThread,
    },
    metrics: [
      { id: 'records', pointer: '/recordsPerSecond', unit: '{records}/s', better: 'higher' },
    ],
  },
};
