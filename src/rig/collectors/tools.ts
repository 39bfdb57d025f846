import type { Collector } from '../collector.ts';
import { parseWord } from '../parse.ts';
import { absent, asReading } from '../reading.ts';

const source = 'process.versions';
const names = ['node', 'v8', 'openssl', 'zlib', 'brotli', 'uv'];

export const toolsCollector: Collector = {
  name: 'tools',
  collect: async ({ versions }) => {
    const entries = names.map((name) => {
      const version = versions[name];
      return [
        name,
        version === undefined
          ? absent('not-reported', source)
          : asReading(version, parseWord, source),
      ] as const;
    });
    return { readings: Object.fromEntries(entries), items: {} };
  },
};
