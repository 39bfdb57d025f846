// `npm run check`: its programs side by side. Each prints when it has ended, all are waited for, and one that fails fails the whole.
// npm puts them on PATH.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { availableParallelism } from 'node:os';
import PQueue from 'p-queue';

const checks = [
  ['tsc', '-p', 'tsconfig.json'],
  ['tsc', '-p', 'test/tsconfig.json'],
  ['biome', 'check', '--error-on-warnings'],
  ['knip'],
];

async function check([program, ...args]) {
  const child = spawn(program, args, {
    stdio: ['ignore', 'pipe', 'pipe'],
    shell: process.platform === 'win32',
  });
  let printed = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding('utf8').on('data', (part) => {
      printed += part;
    });
  }
  const [code] = await once(child, 'close');
  process.stdout.write(printed);
  if (code === 0) return;
  console.error(`${[program, ...args].join(' ')} ended with exit code ${code}`);
  process.exitCode = 1;
}

await new PQueue({ concurrency: availableParallelism() }).addAll(
  checks.map((each) => () => check(each)),
);
