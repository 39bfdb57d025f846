import { fieldsOf, parseInteger } from '../parse.ts';
import { readNames, readText } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

const folder = '/run/systemd/sessions';
/** What the kernel writes for a process that belongs to no login. */
const noLogin = 4_294_967_295;

/** Ids of all sessions that the login manager holds, for comparing with a later look; null where there is none. */
export async function readSessionIds(files: RigFiles): Promise<readonly string[] | null> {
  // Beside each session there is a pipe that ends in `.ref`.
  const names = await readNames(files, folder, /^[A-Za-z0-9]{1,32}$/);
  return names.ok ? names.value : null;
}

/**
 * How many sessions belong to people other than the one who started us: neither the user we run as nor the one who
 * logged in and became that user. Null where no login manager tells. Only numbers of users are looked at; no name is
 * read. The files are those that libsystemd's sd_session_get_uid(3) reads; asking `loginctl` would start a process.
 */
export async function countOtherSessions(files: RigFiles, ownUid: number): Promise<number | null> {
  const ids = await readSessionIds(files);
  if (ids === null) return null;
  const login = await readText(files, '/proc/self/loginuid');
  const loginUid = login.ok ? parseInteger(login.value) : null;
  const own = new Set([ownUid, ...(loginUid === null || loginUid === noLogin ? [] : [loginUid])]);
  const uids = await Promise.all(ids.map((id) => readPersonsUid(files, id)));
  return uids.filter((uid) => uid !== null && !own.has(uid)).length;
}

/** Whether a session is one of a person: login screens, services and those that are ending are not. */
export async function isPersonsSession(files: RigFiles, id: string): Promise<boolean> {
  return (await readPersonsUid(files, id)) !== null;
}

async function readPersonsUid(files: RigFiles, id: string): Promise<number | null> {
  const text = await readText(files, `${folder}/${id}`);
  if (!text.ok) return null;
  const fields = fieldsOf(text.value, '=');
  const isPerson = /^user(?:-early|-light|-early-light|-incomplete)?$/.test(
    fields.get('CLASS') ?? '',
  );
  if (!isPerson || fields.get('STATE') === 'closing') return null;
  return parseInteger(fields.get('UID') ?? '');
}
