import { spawnSync } from 'node:child_process';
import koffi from 'koffi';

const newNetwork = 0x40000000;
const setFlags = 0x8914;
const isUp = 1;
const flagsOffset = 16;
const [inet, datagram] = [2, 2];

/** Whether the system lets this process leave the network of the others: Linux, with the rights of root. */
export function canHaveOwnNetwork(): boolean {
  return spawnSync('unshare', ['--net', 'true']).status === 0;
}

/**
 * Gives this process and what it starts a network of its own, in which only the loopback device is. The lock of sittings is
 * one for each network, so files of tests that take it can run side by side.
 * @throws where the kernel refuses: running on would take the lock of others
 */
export function enterOwnNetwork(): void {
  const libc = koffi.load(null);
  const unshare = libc.func('int unshare(int flags)');
  const socket = libc.func('int socket(int domain, int type, int protocol)');
  const ioctl = libc.func('int ioctl(int descriptor, unsigned long request, void *argument)');
  const close = libc.func('int close(int descriptor)');
  const checked = (call: string, result: number): number => {
    if (result === -1) throw new Error(`${call} failed with error ${koffi.errno()}`);
    return result;
  };
  // Of this thread and those it starts from now on; child processes are started from it.
  checked('unshare', unshare(newNetwork));
  const request = Buffer.alloc(40);
  request.write('lo');
  request.writeInt16LE(isUp, flagsOffset);
  const descriptor = checked('socket', socket(inet, datagram, 0));
  checked('ioctl', ioctl(descriptor, setFlags, request));
  close(descriptor);
}
