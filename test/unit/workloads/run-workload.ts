import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { ShippedName } from '../../../src/model/shipped.ts';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';

export interface WorkloadOutcome {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
  /** The last line of standard output, where it is JSON. */
  readonly report: Readonly<Record<string, unknown>>;
  /** Bytes of image.png, where the program left one. */
  readonly image: Uint8Array | null;
}

/** Parameters that keep a run short: the defaults except for what is given. */
export function parametersOf(
  name: ShippedName,
  given: Readonly<Record<string, number | string>> = {},
): Readonly<Record<string, number | string>> {
  const defaults = Object.entries(shippedCatalog[name].parameters).map(([key, rule]) => [
    key,
    rule.default === 'all' ? 2 : rule.default,
  ]);
  return { ...Object.fromEntries(defaults), ...given };
}

/** Runs the compiled program in a scratch folder of its own, with exactly these arguments. */
export function runWorkload(name: ShippedName, ...programArguments: string[]): WorkloadOutcome {
  return runWorkloadWith({}, name, ...programArguments);
}

export interface RunConditions {
  /** Options for Node itself, which the program's threads inherit. */
  readonly nodeOptions?: readonly string[];
  /** Called with the scratch folder before the program starts. */
  readonly arrange?: (folder: string) => void;
}

/** The same under other conditions. */
export function runWorkloadWith(
  { nodeOptions = [], arrange }: RunConditions,
  name: ShippedName,
  ...programArguments: string[]
): WorkloadOutcome {
  const program = fileURLToPath(new URL(`../../../dist/workloads/${name}.js`, import.meta.url));
  const folder = mkdtempSync(join(tmpdir(), 'workload-'));
  arrange?.(folder);
  try {
    const done = spawnSync(process.execPath, [...nodeOptions, program, ...programArguments], {
      cwd: folder,
      encoding: 'utf8',
    });
    const last = done.stdout.trimEnd().split('\n').at(-1) ?? '';
    return {
      code: done.status,
      stdout: done.stdout,
      stderr: done.stderr,
      report: last.startsWith('{') ? JSON.parse(last) : {},
      image: readIfThere(join(folder, 'image.png')),
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function readIfThere(path: string): Uint8Array | null {
  try {
    return readFileSync(path);
  } catch {
    return null;
  }
}
