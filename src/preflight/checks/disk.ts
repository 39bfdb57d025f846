import { stat, statfs } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import type { Finding } from '../../model/finding.ts';
import type { CheckContext } from '../check.ts';

const refuseBelowBytes = 128 * 2 ** 20;
const warnBelowBytes = 2 ** 30;

/** There is room for results and scratch files beside the output limit of one run, and for inputs to be generated. */
export async function checkDisk(context: CheckContext): Promise<readonly Finding[]> {
  const output = Math.max(...context.suite.workloads.map(({ limits }) => limits.outputBytes));
  const findings: Finding[] = [...(await checkCache(context))];
  for (const [what, folder] of [
    ['results', context.results],
    ['scratch files', context.scratch],
  ] as const) {
    const free = await freeBytes(folder);
    if (free === null || free >= warnBelowBytes + output) continue;
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

async function checkCache({ inputs, cache }: CheckContext): Promise<readonly Finding[]> {
  // Several workloads often read one generated input.
  const missing = new Map(
    inputs.flatMap(({ input, cached, cachePath }) =>
      input.kind === 'generated' && !cached ? [[cachePath, input.sizeBytes] as const] : [],
    ),
  );
  const wanted = [...missing.values()].reduce((sum, bytes) => sum + bytes, 0);
  const free = wanted === 0 ? null : await freeBytes(cache);
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
async function freeBytes(folder: string): Promise<number | null> {
  for (let at = resolve(folder); ; at = dirname(at)) {
    if (await stat(at).catch(() => null)) {
      const facts = await statfs(at).catch(() => null);
      return facts === null ? null : facts.bavail * facts.bsize;
    }
    if (dirname(at) === at) return null;
  }
}
