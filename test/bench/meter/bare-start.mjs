import { openSync } from 'node:fs';
import { join } from 'node:path';
import { parentPort, workerData } from 'node:worker_threads';
import koffi from 'koffi';

const libc = koffi.load(null);
const spawn = libc.func(
  'int posix_spawn(_Out_ int *pid, const char *file, void *actions, void *attributes, const char **argv, const char **environment)',
);
const initActions = libc.func('int posix_spawn_file_actions_init(void *)');
const addDup2 = libc.func('int posix_spawn_file_actions_adddup2(void *, int, int)');
const wait4 = libc.func('int wait4(int pid, _Out_ int *status, int options, void *usage)');

/*
 * A thread of its own, as the meter has: a thread that also does other work is woken later on a busy machine, which
 * would make the bare start look slower than it is.
 */
const { argv, environment, folder } = workerData;
const actions = Buffer.alloc(512);
initActions(actions);
addDup2(actions, openSync('/dev/null', 'r'), 0);
addDup2(actions, openSync(join(folder, 'bare-stdout'), 'w'), 1);
addDup2(actions, openSync(join(folder, 'bare-stderr'), 'w'), 2);
const usage = Buffer.alloc(256);
const entries = Object.entries(environment).map(([name, value]) => `${name}=${value}`);

parentPort.on('message', () => parentPort.postMessage(startAndWait()));

/** Wall time in microseconds from just before the start to just after the end; nothing else at all. */
function startAndWait() {
  const pid = [0];
  const status = [0];
  const begin = process.hrtime.bigint();
  spawn(pid, argv[0], actions, null, [...argv, null], [...entries, null]);
  wait4(pid[0], status, 0, usage);
  const microseconds = Number(process.hrtime.bigint() - begin) / 1e3;
  if (status[0] !== 0) throw new Error(`wait status ${status[0]}`);
  return microseconds;
}
