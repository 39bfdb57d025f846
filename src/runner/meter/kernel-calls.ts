import koffi from 'koffi';

const libc = koffi.load(null);
const nativePrctl = libc.func(
  'int prctl(int, unsigned long, unsigned long, unsigned long, unsigned long)',
);
const nativePipe2 = libc.func('int pipe2(_Out_ int *ends, int flags)');
const nativePoll = libc.func('int poll(void *descriptors, unsigned long count, int milliseconds)');
const nativeKill = libc.func('int kill(int pid, int signal)');
const nativeSetpgid = libc.func('int setpgid(int pid, int group)');
const nativeWaitid = libc.func('int waitid(int type, int id, void *info, int options)');
const nativeWait4 = libc.func('int wait4(int pid, _Out_ int *status, int options, void *usage)');
const nativeSetpriority = libc.func('int setpriority(int which, int id, int value)');
const nativeSetAffinity = libc.func('int sched_setaffinity(int pid, size_t size, void *mask)');
const nativeGetAffinity = libc.func('int sched_getaffinity(int pid, size_t size, void *mask)');

const cloexec = 0o2000000;
const setChildSubreaper = 36;
const pollIn = 1;
const waitForPid = 1;
const waitExited = 4;
const waitNoHang = 1;
const waitLeaveUnreaped = 0x01000000;
const maskBytes = 1024;

/** Thrown when the kernel refuses; `errno` as the kernel numbers it. */
export class KernelError extends Error {
  readonly errno: number;
  constructor(call: string, errno: number) {
    super(`${call} failed with error ${errno}`);
    this.errno = errno;
  }
}

function checked(call: string, result: number): number {
  if (result === -1) throw new KernelError(call, koffi.errno());
  return result;
}

/** Makes orphans among this process's descendants its own children (prctl(2)), or undoes that. */
export function setSubreaper(on: boolean): void {
  checked('prctl', nativePrctl(setChildSubreaper, on ? 1 : 0, 0, 0, 0));
}

/** A pipe that no other child of this process inherits. */
export function openPipe(): { readonly readEnd: number; readonly writeEnd: number } {
  const ends: number[] = [-1, -1];
  checked('pipe2', nativePipe2(ends, cloexec));
  const [readEnd = -1, writeEnd = -1] = ends;
  return { readEnd, writeEnd };
}

/** Whether the descriptor can be read (or is at its end) within the time. */
export function isReadableWithin(descriptor: number, milliseconds: number): boolean {
  const request = Buffer.alloc(8);
  request.writeInt32LE(descriptor, 0);
  request.writeInt16LE(pollIn, 4);
  return nativePoll(request, 1, milliseconds) === 1;
}

/** Signals a process, or a whole group when `pid` is negative; false when there is none. */
export function sendSignal(pid: number, signal: number): boolean {
  return nativeKill(pid, signal) === 0;
}

export function makeGroupLeader(pid: number): void {
  checked('setpgid', nativeSetpgid(pid, pid));
}

export function setNiceness(pid: number, niceness: number): void {
  checked('setpriority', nativeSetpriority(0, pid, niceness));
}

/** CPUs that a process (0: this thread) may use. */
export function readAffinity(pid: number): number[] {
  const mask = Buffer.alloc(maskBytes);
  checked('sched_getaffinity', nativeGetAffinity(pid, maskBytes, mask));
  const cpus: number[] = [];
  for (let cpu = 0; cpu < maskBytes * 8; cpu++) {
    if (((mask[cpu >> 3] ?? 0) >> (cpu & 7)) & 1) cpus.push(cpu);
  }
  return cpus;
}

/** Binds a process (0: this thread) to CPUs; the kernel silently leaves out CPUs that are not there. */
export function bindToCpus(pid: number, cpus: readonly number[]): void {
  const mask = Buffer.alloc(maskBytes);
  for (const cpu of cpus) mask[cpu >> 3] = (mask[cpu >> 3] ?? 0) | (1 << (cpu & 7));
  checked('sched_setaffinity', nativeSetAffinity(pid, maskBytes, mask));
}

/** Blocks until the child has ended, and leaves it unreaped: its process id stays taken. */
export function awaitEnd(pid: number): void {
  const info = Buffer.alloc(128);
  const options = waitExited | waitLeaveUnreaped;
  while (nativeWaitid(waitForPid, pid, info, options) === -1) {
    const errno = koffi.errno();
    if (errno !== koffi.os.errno['EINTR']) throw new KernelError('waitid', errno);
  }
}

/** Wait status and raw `struct rusage` of an ended child, which is gone afterwards. */
export function reap(pid: number): { readonly status: number; readonly usage: Buffer } {
  const status: number[] = [0];
  const usage = Buffer.alloc(256);
  while (nativeWait4(pid, status, 0, usage) === -1) {
    const errno = koffi.errno();
    if (errno !== koffi.os.errno['EINTR']) throw new KernelError('wait4', errno);
  }
  return { status: status[0] ?? 0, usage };
}

/** Reaps a child if it is a zombie; does nothing otherwise. */
export function reapIfEnded(pid: number): void {
  nativeWait4(pid, [0], waitNoHang, Buffer.alloc(256));
}
