import koffi from 'koffi';
import type { ProgramUser } from '../../model/meter.ts';
import { KernelError } from './kernel-calls.ts';

const libc = koffi.load(null);
const setIds = libc.func('long syscall(long number, long real, long effective, long saved)');
const setGroups = libc.func('syscall', 'long', ['long', 'long', 'void *']);

/** Linux: arch/x86/entry/syscalls/syscall_64.tbl; include/uapi/asm-generic/unistd.h for the others that the meter knows. */
const numbers =
  process.arch === 'x64'
    ? { groups: 116, user: 117, group: 119 }
    : { groups: 159, user: 147, group: 149 };

/**
 * Does work with the rights of another user, for this thread alone: the kernel keeps ids by thread, and only the C library
 * changes those of all at once. What is started meanwhile has them for good; the thread itself keeps root as its saved
 * id, to come back. Needs root. Null: does the work as it is.
 */
export function actAs<T>(user: ProgramUser | null, work: () => T): T {
  if (user === null) return work();
  const ownGroups = process.getgroups?.() ?? [];
  changeGroups(user.groups);
  changeIds('setresgid', numbers.group, user.gid);
  changeIds('setresuid', numbers.user, user.uid);
  try {
    return work();
  } finally {
    changeIds('setresuid', numbers.user, 0);
    changeIds('setresgid', numbers.group, 0);
    changeGroups(ownGroups);
  }
}

function changeIds(call: string, number: number, id: number): void {
  if (setIds(number, id, id, 0) === -1) throw new KernelError(call, koffi.errno());
}

function changeGroups(groups: readonly number[]): void {
  const list = Uint32Array.from(groups);
  if (setGroups(numbers.groups, list.length, list) === -1) {
    throw new KernelError('setgroups', koffi.errno());
  }
}
