import { existsSync } from 'node:fs';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join } from 'node:path';
import { serviceName } from '../report/service-unit.ts';

export type ServiceScope = 'user' | 'system';

/** Where the unit of a sitting lies: in the user's folder of units, or in that of the administrator. */
export function unitPath(scope: ServiceScope, sitting: string): string {
  if (scope === 'system') return join('/etc/systemd/system', serviceName(sitting));
  const given = process.env['XDG_CONFIG_HOME'];
  const base = given !== undefined && isAbsolute(given) ? given : join(homedir(), '.config');
  return join(base, 'systemd/user', serviceName(sitting));
}

/** Scopes in which a sitting has a unit. */
export function installedScopes(sitting: string): readonly ServiceScope[] {
  return (['user', 'system'] as const).filter((scope) => existsSync(unitPath(scope, sitting)));
}

export function writeUnit(path: string, text: string): Promise<void> {
  return mkdir(dirname(path), { recursive: true }).then(() => writeFile(path, text));
}

type Command = readonly [string, ...string[]];

/** Commands that make systemd look at new units and start this one at boot. */
export function enableCommands(scope: ServiceScope, sitting: string): readonly Command[] {
  return [systemctl(scope, 'daemon-reload'), systemctl(scope, 'enable', serviceName(sitting))];
}

/** Disables a unit and deletes it, as far as systemd can be asked; returns what could not be done, for people. */
export async function removeUnit(scope: ServiceScope, sitting: string): Promise<readonly string[]> {
  const name = serviceName(sitting);
  const disabled = await runCommand(systemctl(scope, 'disable', name));
  await rm(unitPath(scope, sitting), { force: true });
  // What `enable` made, where systemd could not be asked.
  const target = scope === 'system' ? 'multi-user.target' : 'default.target';
  await rm(join(dirname(unitPath(scope, sitting)), `${target}.wants`, name), { force: true });
  const reloaded = await runCommand(systemctl(scope, 'daemon-reload'));
  return [disabled, reloaded].filter((fault) => fault !== null);
}

/** Null when it worked; else the command and why not. */
export async function runCommand([program, ...words]: Command): Promise<string | null> {
  const { execa } = await import('execa');
  const done = await execa(program, words, { reject: false, stdin: 'ignore', timeout: 30_000 });
  if (!done.failed) return null;
  const shown = [program, ...words].join(' ');
  if (done.code === 'ENOENT') return `${shown}: ${program} is not here`;
  return `${shown}: ${done.stderr.trim().split('\n').at(-1) || done.shortMessage}`;
}

function systemctl(scope: ServiceScope, ...words: readonly string[]): Command {
  return ['systemctl', ...(scope === 'user' ? ['--user'] : []), ...words];
}
