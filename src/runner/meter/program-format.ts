import { closeSync, openSync, readSync } from 'node:fs';

/**
 * What the kernel will make of an executable file. `native`: a program for this very kind of machine, or a script
 * whose interpreter is one. `unknown`: anything else, which may still run (another architecture, a registered format).
 */
export type ProgramFormat = 'native' | 'elf' | 'script' | 'unknown';

const headBytes = 256;
const interpretersInARow = 4;

/** Format by the first bytes of a file, elf(5) and execve(2). */
export function readProgramFormat(file: string, depth = 0): ProgramFormat {
  const head = readHead(file);
  if (head === null) return 'unknown';
  if (head.toString('latin1', 0, 2) === '#!') {
    const interpreter = /^#![ \t]*([^ \t\n\0]+)/.exec(head.toString('utf8'))?.[1];
    const nested =
      interpreter?.startsWith('/') && depth < interpretersInARow
        ? readProgramFormat(interpreter, depth + 1)
        : 'unknown';
    return nested === 'native' ? 'native' : 'script';
  }
  if (head.toString('latin1', 0, 4) !== '\x7fELF') return 'unknown';
  return isLikeOurOwn(head) ? 'native' : 'elf';
}

function isLikeOurOwn(head: Buffer): boolean {
  const own = readHead(process.execPath);
  if (own === null || head.length < 64) return false;
  const type = head.readUInt16LE(16);
  const sameClassAndOrder = head.subarray(4, 6).equals(own.subarray(4, 6));
  const sameMachine = head.readUInt16LE(18) === own.readUInt16LE(18);
  const saneHeaders = head.readUInt16LE(54) === own.readUInt16LE(54) && head.readUInt16LE(56) > 0;
  return sameClassAndOrder && sameMachine && saneHeaders && (type === 2 || type === 3);
}

function readHead(file: string): Buffer | null {
  try {
    const descriptor = openSync(file, 'r');
    try {
      const head = Buffer.alloc(headBytes);
      return head.subarray(0, readSync(descriptor, head, 0, headBytes, 0));
    } finally {
      closeSync(descriptor);
    }
  } catch {
    return null;
  }
}
