// Compares and reports the invented campaign in results/harbour-lane. Commands that this version does not have are passed over.
import { spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const main = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
const root = fileURLToPath(new URL('../..', import.meta.url));
const results = 'results/harbour-lane';
const campaign = `${results}/campaign.yaml`;

/** What is shown, in this order; a further command is a line more. */
const shown = [
  ['check', campaign, '--results', results],
  ['progress', campaign, '--results', results],
  ['precision', 'first-8', '--results', results, '--sittings', 'e5c7,d59a,ca00,e541', '--dry-run'],
  ['compare', 'first-8', 'second-8', 'first-16', 'second-16', '--results', results],
  ['effects', campaign, '--results', results],
  ['worth', campaign, '--results', results],
  [
    'report',
    campaign,
    '--results',
    results,
    '--text',
    '--out',
    'build/harbour-lane.html',
    '--replace',
  ],
];

mkdirSync(fileURLToPath(new URL('../../build', import.meta.url)), { recursive: true });

const run = (args, stdio) => spawnSync(process.execPath, [main, ...args], { cwd: root, stdio });
const { stdout: help } = run(['--help'], 'pipe');
const has = (command) => new RegExp(`^  ${command}\\s`, 'm').test(`${help}`);

process.stdout.write('INVENTED: the co-op, its parts, prices and all figures below\n');
for (const args of shown.filter(([command]) => has(command))) {
  process.stdout.write(`\n$ steadyrig ${args.join(' ')}\n\n`);
  const { status } = run(args, 'inherit');
  if (status !== 0) process.exitCode = status ?? 1;
}
