import { err, ok, type Result } from '../lib/result.ts';
import type { ProgramUser } from '../model/meter.ts';

/** Somebody that workloads can run as. */
export interface OtherUser extends ProgramUser {
  /** Only to be kept out of records. */
  readonly name: string;
}

/** A user of this system by name or number, with all groups, as id(1) tells. The error is a clause. */
export async function findUser(name: string): Promise<Result<OtherUser, string>> {
  if (!/^[\w][\w.-]*\$?$/.test(name)) return err(`"${name}" is no name of a user`);
  const { execa } = await import('execa');
  const ask = async (option: string): Promise<readonly number[] | null> => {
    const { exitCode, stdout } = await execa('id', [option, '--', name], { reject: false });
    return exitCode === 0 ? stdout.split(' ').map(Number) : null;
  };
  const [[uid] = [], [gid] = [], groups] = [await ask('-u'), await ask('-g'), await ask('-G')].map(
    (ids) => ids ?? [],
  );
  if (uid === undefined || gid === undefined || groups === undefined)
    return err(`there is no user ${name} on this system`);
  const { stdout: known } = await execa('id', ['-un', '--', name], { reject: false });
  if (uid === 0) return err(`${name} is root: leave --as out to run workloads as root`);
  return ok({ name: known, uid, gid, groups });
}
