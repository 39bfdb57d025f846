import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, vi } from 'vitest';
import { liesBeside } from '../../src/results/layout.ts';
import { loggedEvents } from './cli.ts';

const usual = {
  repeats: 2,
  'warm-ups': 1,
  order: 'as-written',
  cooldown: '0 s',
  limits: '{ time: 20 s, output: 1 MiB }',
} as const;

/** `harbour.yaml` with these lines of YAML as its list of workloads; what is not set is short. Its path. */
export function writeHarbour(
  folder: string,
  workloads: string,
  settings: Readonly<Partial<Record<keyof typeof usual, string | number>>> = {},
  more = '',
): string {
  const path = join(folder, 'harbour.yaml');
  const lines = Object.entries({ ...usual, ...settings }).map(([key, value]) => `${key}: ${value}`);
  writeFileSync(
    path,
    `suite: harbour\ntitle: Harbour Lane (invented)\nrevision: 1\n${lines.join('\n')}\n${more}workloads:\n${workloads}`,
  );
  return path;
}

/** A suite of small commands; every workload is a shell line of the test's own. */
export function writeSuite(
  folder: string,
  workloads: Readonly<Record<string, string>>,
  more = '',
): string {
  const entries = Object.entries(workloads).map(
    ([id, line]) =>
      `  - id: ${id}\n    title: ${id}\n    kind: command\n    argv: [/bin/sh, -c, ${JSON.stringify(line)}]\n`,
  );
  return writeHarbour(folder, entries.join(''), {}, more);
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
  [key: string]: unknown;
}[] {
  const text = readFileSync(join(folder, 'data/runs.jsonl'), 'utf8');
  return text
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line));
}

/** `sitting.json` of a folder. */
// biome-ignore lint/suspicious/noExplicitAny: tests look at what is in the file, whatever it should be.
export function sittingFile(folder: string): any {
  return JSON.parse(readFileSync(join(folder, 'data/sitting.json'), 'utf8'));
}

/** That of each sitting of a results folder, oldest first. */
export function sittingFiles(results: string): ReturnType<typeof sittingFile>[] {
  const names = readdirSync(results).filter((name) => !liesBeside(name));
  return names.sort().map((name) => sittingFile(join(results, name)));
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

/** Waits until an event log holds so many events of a kind, looking every `interval` milliseconds. */
export async function untilLogged(
  log: string,
  type: string,
  count = 1,
  interval = 20,
): Promise<void> {
  const seen = () => loggedEvents(log).filter((event) => event.type === type);
  await vi.waitFor(() => expect(seen().length).toBeGreaterThanOrEqual(count), {
    timeout: 30_000,
    interval,
  });
}
