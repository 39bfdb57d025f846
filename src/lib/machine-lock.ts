import { unlink } from 'node:fs/promises';
import { connect, createServer, type Server } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { err, ok, type Result } from './result.ts';

/** Held by at most one process of the machine; the kernel frees it however the holder ends. */
export interface MachineLock {
  release(): Promise<void>;
}

/**
 * Takes the lock, or returns what its holder says about itself.
 * On Linux an abstract socket: no file can be left behind, other users are seen, nothing needs rights. Elsewhere
 * a named pipe or a socket file. Each network namespace (container) has locks of its own.
 */
export async function lockMachine(
  name: string,
  about: string,
): Promise<Result<MachineLock, string>> {
  const address = addressOf(name);
  const server = createServer((socket) => socket.on('error', () => undefined).end(about));
  server.unref();
  const failure = await listen(server, address);
  if (failure === null) return ok({ release: () => close(server) });
  if (failure.code !== 'EADDRINUSE') throw failure;
  const holder = await ask(address);
  if (holder !== null) return err(holder);
  // Only a socket file outlives its holder.
  await unlink(address).catch(() => undefined);
  const again = await listen(server, address);
  if (again !== null) return err('');
  return ok({ release: () => close(server) });
}

function addressOf(name: string): string {
  if (process.platform === 'linux') return `\0${name}`;
  if (process.platform === 'win32') return `\\\\.\\pipe\\${name}`;
  return join(tmpdir(), `${name}.sock`);
}

function listen(server: Server, address: string): Promise<NodeJS.ErrnoException | null> {
  return new Promise((resolve) => {
    server.once('error', resolve);
    server.listen(address, () => {
      server.removeListener('error', resolve);
      resolve(null);
    });
  });
}

function close(server: Server): Promise<void> {
  return new Promise((resolve) => server.close(() => resolve()));
}

/** What the holder says; null when nobody answers at that address. */
function ask(address: string): Promise<string | null> {
  return new Promise((resolve) => {
    let answer = '';
    const socket = connect(address);
    socket.setEncoding('utf8');
    socket.setTimeout(1_000, () => socket.destroy());
    socket.on('data', (part) => {
      answer += part;
    });
    socket.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'ECONNREFUSED' && process.platform !== 'linux') resolve(null);
    });
    socket.on('close', () => resolve(answer));
  });
}
