import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { describe, expect, it } from 'vitest';
import { builtPath } from '../../../../src/lib/built-path.ts';
import { fixture, isAlive, meterNames, until } from './harness.ts';

const source = new URL('../../../../src/runner/meter/open-meter.ts', import.meta.url).href;
const modulePath = builtPath('./open-meter.js', source);

/** An agent in its own process that measures the command; resolves when the program runs. */
async function startAgent(kind: string, ending: string, command: readonly string[]) {
  const agent = spawn(
    process.execPath,
    [fixture('agent.mjs'), modulePath, kind, ending, ...command],
    {
      stdio: ['ignore', 'pipe', 'inherit'],
    },
  );
  const [line] = (await once(agent.stdout, 'data')) as [Buffer];
  return { agent, pid: Number(line.toString()) };
}

describe.each(meterNames)('an agent with the %s meter that goes away', (name) => {
  const stubborn = ['sh', '-c', 'trap "" TERM HUP INT; sleep 600 & while :; do sleep 600; done'];

  it('takes its program along when it is killed', async () => {
    const { agent, pid } = await startAgent(name, 'killed', stubborn);
    await until(() => isAlive(pid), 'the program runs');
    await killed(agent);
    await until(() => !isAlive(pid), 'the program has ended');
  });

  it('takes its program along when it exits, and is not held up by it', async () => {
    const { agent, pid } = await startAgent(name, 'exit', stubborn);
    expect(await once(agent, 'exit')).toEqual([9, null]);
    await until(() => !isAlive(pid), 'the program has ended');
  });
});

async function killed(agent: ChildProcess): Promise<void> {
  const exit = once(agent, 'exit');
  agent.kill('SIGKILL');
  await exit;
}
