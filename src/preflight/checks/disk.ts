import { stat, statfs } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import type { Finding } from '../../model/finding.ts';
import type { CheckContext } from '../check.ts';

const refuseBelowBytes = 128 * 2 ** 20;
const warnBelowBytes = 2 ** 30;

/** Solid-state drives slow down when little is free. Common practice, no source. */
const nearlyFullBelow = 0.05;

/** Of a file system. */
export interface Room {
  readonly freeBytes: number;
  readonly totalBytes: number;
}

/**
 * There is room for results and scratch files beside the output limit of one run, and for inputs to be generated; and
 * the file systems are not nearly full.
 */
export async function checkDisk(
  context: CheckContext,
  readRoom: (folder: string) => Promise<Room | null> = roomAt,
): Promise<readonly Finding[]> {
  const output = Math.max(...context.suite.workloads.map(({ limits }) => limits.outputBytes));
  const findings: Finding[] = [...(await checkCache(context, readRoom))];
  for (const [what, folder] of [
    ['results', context.results],
    ['scratch files', context.scratch],
  ] as const) {
    const room = await readRoom(folder);
    if (room === null) continue;
    const free = room.freeBytes;
    if (free >= warnBelowBytes + output) {
      findings.push(...nearlyFull(what, folder, room));
      continue;
    }
    const refuse = free < refuseBelowBytes + output;
    findings.push({
      check: 'disk',
      severity: refuse ? 'refuse' : 'warn',
      workload: null,
      message: `${Math.floor(free / 2 ** 20)} MiB are free for ${what} in ${folder}, and one run may write ${Math.ceil(output / 2 ** 20)} MiB`,
      remedy: 'free some space, lower limits.output, or choose another folder',
    });
  }
  return findings;
}

function nearlyFull(
  what: string,
  folder: string,
  { freeBytes, totalBytes }: Room,
): readonly Finding[] {
  const free = freeBytes / totalBytes;
  if (!(free < nearlyFullBelow)) return [];
  const message = `the file system for ${what} in ${folder} is nearly full: ${(free * 100).toFixed(1)} % are free`;
  const remedy = 'free some space, or choose another folder: drives slow down when full';
  return [{ check: 'disk', severity: 'warn', workload: null, message, remedy }];
}

async function checkCache(
  { inputs, cache }: CheckContext,
  readRoom: (folder: string) => Promise<Room | null>,
): Promise<readonly Finding[]> {
  // Several workloads often read one generated input.
  const missing = new Map(
    inputs.flatMap(({ input, cached, cachePath }) =>
      input.kind === 'generated' && !cached ? [[cachePath, input.sizeBytes] as const] : [],
    ),
  );
  const wanted = [...missing.values()].reduce((sum, bytes) => sum + bytes, 0);
  const free = wanted === 0 ? null : ((await readRoom(cache))?.freeBytes ?? null);
  if (free === null || free >= wanted + refuseBelowBytes) return [];
  return [
    {
      check: 'disk',
      severity: 'refuse',
      workload: null,
      message: `${Math.floor(free / 2 ** 20)} MiB are free in ${cache}, and ${Math.ceil(wanted / 2 ** 20)} MiB of inputs are to be generated there`,
      remedy: 'free some space, or choose another folder by --cache',
    },
  ];
}

/** Of the nearest folder that exists; null where the system does not tell. */
async function roomAt(folder: string): Promise<Room | null> {
  for (let at = resolve(folder); ; at = dirname(at)) {
    if (await stat(at).catch(() => null)) {
      const facts = await statfs(at).catch(() => null);
      if (facts === null) return null;
      const { bavail, blocks, bsize } = facts;
      return { freeBytes: bavail * bsize, totalBytes: blocks * bsize };
    }
    if (dirname(at) === at) return null;
  }
}
