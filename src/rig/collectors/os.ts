import type { Collector } from '../collector.ts';
import { scrubCommandLine } from '../command-line.ts';
import { taintReasons } from '../kernel-taint.ts';
import { field, parseInteger, parseName, parseSwitch, parseWord } from '../parse.ts';
import {
  absent,
  type Parse,
  present,
  type RawReading,
  readAll,
  readFirst,
  readText,
} from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

const linePath = '/proc/cmdline';
const clockFolder = '/sys/devices/system/clocksource/clocksource0';

/** Formats: os-release(5); Documentation/admin-guide/sysctl/kernel.rst; Documentation/timers/timekeeping.rst. */
export const osCollector: Collector = {
  name: 'os',
  collect: async ({ files }) => {
    const [name, version, kernel, clock, commandLine] = await Promise.all([
      readFirst(files, release('NAME')),
      readFirst(files, [...release('VERSION'), ...release('VERSION_ID'), ...release('BUILD_ID')]),
      readAll(files, '/proc/sys/kernel', {
        kernel: ['osrelease', parseWord],
        kernelBuild: ['version', parseName],
        architecture: ['arch', parseWord],
        tainted: ['tainted', parseInteger],
        taintReasons: ['tainted', parseTaint],
        addressRandomisation: ['randomize_va_space', parseInteger],
        numaBalancing: ['numa_balancing', parseInteger],
        watchdog: ['nmi_watchdog', parseSwitch],
      }),
      readAll(files, clockFolder, {
        clockSource: ['current_clocksource', parseWord],
        clockSources: ['available_clocksource', parseWords],
      }),
      readCommandLine(files),
    ]);
    return { readings: { name, version, ...kernel, ...clock, ...commandLine }, items: {} };
  },
};

function release(key: string): readonly (readonly [string, Parse])[] {
  const parse = field(key, '=', (text) => parseName(text.replace(/^(["'])(.*)\1$/, '$2')));
  return [
    ['/etc/os-release', parse],
    ['/usr/lib/os-release', parse],
  ];
}

const parseTaint: Parse = (text) => {
  const taint = parseInteger(text);
  if (taint === null || taint < 0) return null;
  return taint === 0 ? { absent: 'not-set' } : taintReasons(taint);
};

const parseWords: Parse = (text) => {
  const words = text.trim().split(/\s+/);
  return words.every((word) => /^[\w.-]{1,40}$/.test(word)) ? words : null;
};

async function readCommandLine(files: RigFiles): Promise<Record<string, RawReading>> {
  const text = await readText(files, linePath);
  if (!text.ok) return { commandLine: text.absent, commandLineLeftOut: text.absent };
  const { kept, leftOut } = scrubCommandLine(text.value);
  return {
    commandLine: kept.length === 0 ? absent('not-set', linePath) : present(kept, linePath),
    commandLineLeftOut: present(leftOut, linePath),
  };
}
