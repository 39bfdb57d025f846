import type { RebootState } from '../../model/rig-condition.ts';
import { parseWord } from '../parse.ts';
import { readNames, readText, readValue } from '../reading.ts';
import { byNumber, type RigFiles } from '../rig-files.ts';

/** Debian's update-notifier and its kin leave this file; common practice, no source. */
const askingFiles = ['/run/reboot-required', '/var/run/reboot-required'];
const moduleFolders = ['/lib/modules', '/usr/lib/modules'];

/** Whether the system waits for a reboot. A newer kernel counts only in the flavour of the running one. */
export async function readReboot(files: RigFiles): Promise<RebootState> {
  const [asked, release, installed] = await Promise.all([
    Promise.all(askingFiles.map((path) => readText(files, path))),
    readValue(files, '/proc/sys/kernel/osrelease', parseWord),
    Promise.all(moduleFolders.map((folder) => readNames(files, folder, /^\d+\.\d+[\w.+~-]*$/))),
  ]);
  const running = typeof release.value === 'string' ? release.value : null;
  const names = installed.flatMap((names) => (names.ok ? names.value : []));
  const newer = running === null ? [] : names.filter((name) => isNewerKin(name, running));
  return {
    isAskedFor: asked.some(({ ok }) => ok),
    running,
    newer: newer.sort(byNumber).at(-1) ?? null,
  };
}

/** `6.1.0-28-amd64` beside `6.1.0-26-amd64`; not `6.1.0-28-rt-amd64`. */
function isNewerKin(name: string, running: string): boolean {
  return flavourOf(name) === flavourOf(running) && byNumber(name, running) > 0;
}

/** The words in a release, such as `rt-amd`: the numbers count the builds. */
function flavourOf(release: string): string {
  return release
    .split(/[-_+~]/)
    .flatMap((part) => /^([a-z]+)\d*$/i.exec(part)?.[1]?.toLowerCase() ?? [])
    .join('-');
}
