/** A systemd unit that continues a sitting at boot. Paths are absolute. */
export interface ServiceUnit {
  readonly sitting: string;
  readonly folder: string;
  readonly scope: 'user' | 'system';
  /** Program and arguments. */
  readonly command: readonly [string, ...string[]];
}

/** Holds only what ids of sittings hold, so it needs no escaping. */
export function serviceName(sitting: string): string {
  return `steadyrig-${sitting}.service`;
}

/**
 * The unit file, as systemd.unit(5) and systemd.service(5) have it. It starts when the rest of the boot is done, only while
 * the sitting is not sealed. At shutdown the agent alone is told, lets the run under way finish, and is ended half a minute
 * later with all that is left. Exit codes 1 and 4 are sittings that ended as they may: runs failed, or more is to come.
 */
export function renderServiceUnit({ sitting, folder, scope, command }: ServiceUnit): string {
  const target = scope === 'system' ? 'multi-user.target' : 'default.target';
  const [program, ...words] = startable(command);
  return [
    '# Written by steadyrig install-service; steadyrig install-service --remove takes it away.',
    '[Unit]',
    `Description=Continue the steadyrig sitting ${sitting}`,
    `ConditionPathExists=!${escapeSpecifiers(folder)}/bagit.txt`,
    `After=${target}`,
    '',
    '[Service]',
    'Type=oneshot',
    `ExecStart=${[quote(program), ...words.map(quoteArgument)].join(' ')}`,
    'SuccessExitStatus=1 4',
    'KillMode=mixed',
    'TimeoutStopSec=30',
    '',
    '[Install]',
    `WantedBy=${target}`,
    '',
  ].join('\n');
}

/** systemd starts no program with a quote or a backslash in its path; env(1) starts it. */
function startable(command: ServiceUnit['command']): ServiceUnit['command'] {
  return /["'\\]/.test(command[0]) ? ['/usr/bin/env', ...command] : command;
}

function quoteArgument(text: string): string {
  // Not in the program's own path, where systemd expands no variables.
  return quote(text).replaceAll('$', '$$$$');
}

/** systemd.syntax(7), "Quoting": C escapes within double quotes; and `%` begins a specifier. */
function quote(text: string): string {
  const escaped = text.replace(/[\\"]/g, '\\$&').replace(/\p{Cc}/gu, hexEscape);
  return `"${escapeSpecifiers(escaped)}"`;
}

function hexEscape(character: string): string {
  return `\\x${character.charCodeAt(0).toString(16).padStart(2, '0')}`;
}

function escapeSpecifiers(text: string): string {
  return text.replaceAll('%', '%%');
}
