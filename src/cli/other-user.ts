import { err, ok, type Result } from '../lib/result.ts';
import { findUser, type OtherUser } from '../prepare/find-user.ts';

export interface AsFlags {
  readonly as?: string;
}

/** Who `--as` means; null where it is not given. */
export async function otherUser({ as }: AsFlags): Promise<Result<OtherUser | null, string>> {
  if (as === undefined) return ok(null);
  if (process.getuid?.() !== 0)
    return err('option --as: only root can run workloads as another user');
  const user = await findUser(as);
  return user.ok ? user : err(`option --as: ${user.error}`);
}
