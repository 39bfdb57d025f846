import { err, ok, type Result } from '../lib/result.ts';

/** CPU numbers in ascending order, from `2`, `[0, 1]` or `0-3,6`; the error is a clause that names the fault. */
export function parseAffinity(
  written: number | string | readonly number[],
): Result<readonly number[], string> {
  const parts = typeof written === 'string' ? written.split(/, ?/).map(range) : single(written);
  const cpus = new Set<number>();
  for (const [first, last] of parts) {
    if (last < first) return err(`\`${first}-${last}\` runs backwards; write \`${last}-${first}\``);
    if (last > 8191) return err(`CPU ${last} is beyond 8191, the most that the kernel can have`);
    for (let cpu = first; cpu <= last; cpu += 1) {
      if (cpus.has(cpu)) return err(`CPU ${cpu} is named twice; name it once`);
      cpus.add(cpu);
    }
  }
  return ok([...cpus].sort((one, other) => one - other));
}

type Span = readonly [number, number];

function single(written: number | readonly number[]): Span[] {
  return [written].flat().map((cpu) => [cpu, cpu]);
}

function range(part: string): Span {
  const [first = '', last = first] = part.split('-');
  return [Number(first), Number(last)];
}
