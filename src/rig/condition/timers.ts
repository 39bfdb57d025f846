import type { SystemTimer } from '../../model/rig-condition.ts';

const program = 'systemctl';
const limitSeconds = 3;

/** Output of the service manager's list of timers as JSON; null where there is none, or it does not answer. */
export type TimerQuery = () => Promise<string | null>;

/** Asks `systemctl list-timers`. Never rejects. */
export const queryTimers: TimerQuery = async () => {
  // Slow to load.
  const { execa } = await import('execa');
  const result = await execa(program, ['list-timers', '--all', '--output=json', '--no-pager'], {
    extendEnv: false,
    // The mark keeps it from being counted among what a measured program left behind.
    env: { PATH: '/usr/local/bin:/usr/bin:/bin', LC_ALL: 'C.UTF-8', STEADYRIG_AUX: '1' },
    stdin: 'ignore',
    timeout: limitSeconds * 1000,
    forceKillAfterDelay: 500,
    maxBuffer: 1024 * 1024,
    reject: false,
  });
  return result.failed ? null : result.stdout;
};

/**
 * Timers of the system with the time until they fire next, soonest first; null where the answer is none. One without
 * a next time is left out. `next` is in microseconds since the epoch. One that is overdue (`Persistent=`, missed while
 * the machine was off) has its next time in the past or just ahead. Source: systemctl(1), systemd.timer(5).
 */
export function parseTimers(text: string, now: Date): readonly SystemTimer[] | null {
  const rows = parseRows(text);
  if (rows === null) return null;
  return rows
    .flatMap((row) => {
      const { unit, next } = row as Readonly<Record<string, unknown>>;
      const isNamed = typeof unit === 'string' && /^[\w.@:\\-]{1,256}$/.test(unit);
      if (!isNamed || typeof next !== 'number' || next <= 0) return [];
      return [{ name: unit, inSeconds: Math.round((next / 1000 - now.getTime()) / 1000) }];
    })
    .sort((a, b) => a.inSeconds - b.inSeconds);
}

function parseRows(text: string): readonly object[] | null {
  try {
    const rows: unknown = JSON.parse(text);
    if (!Array.isArray(rows)) return null;
    return rows.filter((row) => typeof row === 'object' && row !== null);
  } catch {
    return null;
  }
}
