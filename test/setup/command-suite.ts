import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, vi } from 'vitest';
import { loggedEvents } from './cli.ts';

/** A suite of small commands; every workload is a shell line of the test's own. */
export function writeSuite(
  folder: string,
  workloads: Readonly<Record<string, string>>,
  more = '',
): string {
  const path = join(folder, 'harbour.yaml');
  const entries = Object.entries(workloads).map(
    ([id, line]) =>
      `  - id: ${id}\n    title: ${id}\n    kind: command\n    argv: [/bin/sh, -c, ${JSON.stringify(line)}]\n`,
  );
  writeFileSync(
    path,
    `suite: harbour\ntitle: Harbour Lane (invented)\nrevision: 1\nrepeats: 2\nwarm-ups: 1\norder: as-written\ncooldown: 0 s\nlimits: { time: 20 s, output: 1 MiB }\n${more}workloads:\n${entries.join('')}`,
  );
  return path;
}

/** The only sitting of a results folder. */
export function theFolder(results: string): string {
  const [only, ...others] = readdirSync(results);
  expect(others).toEqual([]);
  return join(results, only ?? '');
}

/** Runs of a sitting as they stand in the journal. */
export function journalLines(folder: string): {
  workload: string;
  outcome: string;
  plan: number;
  attempt: number;
  failure: { code: string } | null;
}[] {
  const text = readFileSync(join(folder, 'data/runs.jsonl'), 'utf8');
  return text
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line));
}

/** A shell line that ends when the file is there. */
export const untilGo: (go: string) => string = (go) => `until [ -e ${go} ]; do sleep 0.02; done`;

/** Waits until an event log says that a planned run has started. */
export async function untilRunning(log: string, index: number): Promise<void> {
  await vi.waitFor(
    () =>
      expect(loggedEvents(log)).toContainEqual(
        expect.objectContaining({ type: 'run-started', run: expect.objectContaining({ index }) }),
      ),
    { timeout: 20_000, interval: 20 },
  );
}
