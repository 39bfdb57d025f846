import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** True for `npm run test:faults`: hundreds of faults instead of a few. */
export const isLong: boolean = process.env['STEADYRIG_FAULTS'] === 'long';

/** A sitting of many runs that take a few milliseconds each. */
export function writeFastSuite(
  folder: string,
  { repeats = 3, line = 'echo done' }: { readonly repeats?: number; readonly line?: string } = {},
): string {
  const path = join(folder, 'harbour.yaml');
  const workloads = ['pack', 'sort', 'draw'].map(
    (id) => `  - { id: ${id}, title: ${id}, kind: command, argv: [/bin/sh, -c, '${line}'] }\n`,
  );
  const head = `suite: harbour\ntitle: Harbour Lane (invented)\nrepeats: ${repeats}\nwarm-ups: 1\ncooldown: 0 s\n`;
  writeFileSync(path, `${head}workloads:\n${workloads.join('')}`);
  return path;
}

/** Folders of sittings in a results folder. */
export function sittingFolders(results: string): readonly string[] {
  if (!existsSync(results)) return [];
  return readdirSync(results)
    .filter((name) => existsSync(join(results, name, 'data', 'sitting.json')))
    .map((name) => join(results, name));
}

export interface JournalLine {
  readonly plan: number;
  readonly attempt: number;
  readonly outcome: 'ok' | 'failed';
  readonly failure: { readonly code: string } | null;
}

/** Whole lines of a sitting's journal. */
export function journalLines(folder: string): readonly JournalLine[] {
  const path = join(folder, 'data', 'runs.jsonl');
  if (!existsSync(path)) return [];
  return readFileSync(path, 'utf8')
    .split('\n')
    .slice(0, -1)
    .map((line) => JSON.parse(line) as JournalLine);
}
