/** What a factor may be about. */
export type Topic =
  | 'memory'
  | 'board'
  | 'processor'
  | 'graphics'
  | 'storage'
  | 'firmware'
  | 'microcode'
  | 'kernel'
  | 'system'
  | 'driver'
  | 'governor'
  | 'power'
  | 'smt'
  | 'mitigations'
  | 'runtime'
  | 'program'
  | 'ambient';

/** Other words for it. */
const words: Readonly<Record<Topic, readonly string[]>> = {
  memory: ['ram', 'dimm', 'dimms'],
  board: ['mainboard', 'motherboard'],
  processor: ['cpu'],
  graphics: ['gpu'],
  storage: ['disk', 'disks', 'ssd', 'drive'],
  firmware: ['bios', 'uefi'],
  microcode: [],
  kernel: [],
  system: ['os', 'distribution'],
  driver: [],
  governor: [],
  power: [],
  smt: [],
  mitigations: [],
  runtime: ['node'],
  program: ['compiler', 'software'],
  ambient: ['room'],
};

const byWord: ReadonlyMap<string, Topic> = new Map(
  Object.entries(words).flatMap(([topic, others]) =>
    [topic, ...others].map((word) => [word, topic as Topic] as const),
  ),
);

/** What a factor is about, by the words in its name: `graphics-driver` is about both. */
export function topicsOf(factor: string): readonly Topic[] {
  return factor
    .toLowerCase()
    .split(/[^a-z]+/)
    .flatMap((word) => byWord.get(word) ?? []);
}
