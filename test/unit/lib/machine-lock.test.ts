import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { describe, expect, it } from 'vitest';
import { builtPath } from '../../../src/lib/built-path.ts';
import { lockMachine } from '../../../src/lib/machine-lock.ts';
import { unwrap } from '../../setup/unwrap.ts';

const lockModule = builtPath('../../../src/lib/machine-lock.js', import.meta.url);

describe('lockMachine', () => {
  it('is held once, tells who holds it, and is free after release', async () => {
    const name = `steadyrig-test-${process.pid}-a`;
    const held = unwrap(await lockMachine(name, 'process 1'));
    expect(await lockMachine(name, 'process 2')).toEqual({ ok: false, error: 'process 1' });
    await held.release();
    unwrap(await lockMachine(name, 'process 3')).release();
  });

  it('is free again when its holder is killed', async () => {
    const name = `steadyrig-test-${process.pid}-b`;
    const script = `import(${JSON.stringify(lockModule)}).then(async ({ lockMachine }) => {
      await lockMachine(${JSON.stringify(name)}, 'the child');
      setInterval(() => {}, 1000);
      console.log('held');
    })`;
    const child = spawn(process.execPath, ['-e', script], { stdio: ['ignore', 'pipe', 'inherit'] });
    await once(child.stdout, 'data');
    expect(await lockMachine(name, 'me')).toEqual({ ok: false, error: 'the child' });
    child.kill('SIGKILL');
    await once(child, 'exit');
    const mine = await lockMachine(name, 'me');
    expect(mine.ok).toBe(true);
    await unwrap(mine).release();
  });
});
