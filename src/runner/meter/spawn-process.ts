import { readdirSync } from 'node:fs';
import koffi from 'koffi';
import type { ProgramUser } from '../../model/meter.ts';
import { actAs } from './act-as.ts';
import { KernelError } from './kernel-calls.ts';

const libc = koffi.load(null);
const posixSpawn = libc.func(
  'int posix_spawn(_Out_ int *pid, const char *file, void *actions, void *attributes, const char **argv, const char **environment)',
);
const actionsInit = libc.func('int posix_spawn_file_actions_init(void *)');
const actionsDestroy = libc.func('int posix_spawn_file_actions_destroy(void *)');
const addDup2 = libc.func('int posix_spawn_file_actions_adddup2(void *, int from, int to)');
const addClose = libc.func('int posix_spawn_file_actions_addclose(void *, int descriptor)');
const addChdir = libc.func('int posix_spawn_file_actions_addchdir_np(void *, const char *folder)');
const attributesInit = libc.func('int posix_spawnattr_init(void *)');
const setFlags = libc.func('int posix_spawnattr_setflags(void *, short flags)');
const setDefaults = libc.func('int posix_spawnattr_setsigdefault(void *, void *signals)');

// glibc and musl: 80 bytes of actions, 336 of attributes, 128 of signal set.
const structBytes = 512;
const flagSetGroup = 2;
const flagSetDefaults = 4;
const flagSetMask = 8;

/** Own process group, no signal blocked, every signal at its default: Node ignores SIGPIPE, a program must not. */
const attributes = makeAttributes();

function makeAttributes(): Buffer {
  const made = Buffer.alloc(structBytes);
  attributesInit(made);
  setFlags(made, flagSetGroup | flagSetDefaults | flagSetMask);
  const signals = Buffer.alloc(128, 0xff);
  for (const unblockable of [9, 19]) {
    const bit = unblockable - 1;
    signals[bit >> 3] = (signals[bit >> 3] ?? 0) & ~(1 << (bit & 7));
  }
  setDefaults(made, signals);
  return made;
}

export interface SpawnPlan {
  /** Absolute path. */
  readonly file: string;
  readonly argv: readonly string[];
  /** `NAME=value`, the whole environment. */
  readonly environment: readonly string[];
  readonly workingFolder: string;
  /** Null: as this process. */
  readonly user: ProgramUser | null;
  /** Our descriptors that become the child's 0, 1, 2, ...; each of them above the highest of those. */
  readonly descriptors: readonly number[];
}

/** Process id of a new child that leads its own group and holds no descriptor but the given ones. Throws KernelError. */
export function spawnProcess(plan: SpawnPlan): number {
  const actions = Buffer.alloc(structBytes);
  actionsInit(actions);
  try {
    plan.descriptors.forEach((from, to) => {
      if (from < plan.descriptors.length) throw new Error(`internal error: descriptor ${from}`);
      addDup2(actions, from, to);
    });
    // Node cannot mark all that it inherited as close-on-exec, so everything else is closed by name.
    for (const name of readdirSync('/proc/self/fd')) {
      if (Number(name) >= plan.descriptors.length) addClose(actions, Number(name));
    }
    addChdir(actions, plan.workingFolder);
    const pid: number[] = [0];
    const argv = [...plan.argv, null];
    const environment = [...plan.environment, null];
    const errno = actAs(plan.user, () =>
      posixSpawn(pid, plan.file, actions, attributes, argv, environment),
    );
    if (errno !== 0) throw new KernelError('posix_spawn', errno);
    return pid[0] ?? 0;
  } finally {
    actionsDestroy(actions);
  }
}
