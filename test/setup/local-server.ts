import { createServer, type IncomingHttpHeaders, type RequestListener } from 'node:http';
import { createServer as createRawServer, type Server, type Socket } from 'node:net';
import { onTestFinished } from 'vitest';

export interface Received {
  readonly method: string | undefined;
  readonly url: string | undefined;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

export interface LocalServer {
  readonly url: URL;
  readonly received: Received[];
}

/** Listens on this machine until the test has finished; connections still open are then cut. */
export async function listenLocally(server: Server, scheme = 'http'): Promise<URL> {
  const sockets = new Set<Socket>();
  server.on('connection', (socket) => {
    sockets.add(socket);
    socket.on('error', () => undefined);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => {
    for (const socket of sockets) socket.destroy();
    server.close();
  });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return new URL(`${scheme}://localhost:${address.port}/told`);
}

/** Keeps every request that it gets, then lets `answer` answer; `count` is from 1. */
export function keepingRequests(
  received: Received[],
  answer: (count: number, ...given: Parameters<RequestListener>) => void,
): RequestListener {
  return (request, response) => {
    let body = '';
    request.setEncoding('utf8').on('data', (part: string) => {
      body += part;
    });
    request.on('end', () => {
      const { method, url, headers } = request;
      received.push({ method, url, headers, body });
      answer(received.length, request, response);
    });
  };
}

export async function localServer(
  answer: (count: number, ...given: Parameters<RequestListener>) => void,
): Promise<LocalServer> {
  const received: Received[] = [];
  const url = await listenLocally(createServer(keepingRequests(received, answer)));
  return { url, received };
}

/** A server that speaks no HTTP. */
export function rawServer(onConnection: (socket: Socket) => void): Promise<URL> {
  return listenLocally(createRawServer(onConnection));
}
