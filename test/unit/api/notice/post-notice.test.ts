import { once } from 'node:events';
import { createServer } from 'node:net';
import { describe, expect, it } from 'vitest';
import { type PostOptions, postNotice } from '../../../../src/api/notice/post-notice.ts';
import { localServer, rawServer } from '../../../setup/local-server.ts';
import { sampleEndNotice } from '../../../setup/samples.ts';

const secret = 'Bearer invented-secret';

/** Without waits between tries, but for what a test changes. */
function post(url: URL, changes: Partial<PostOptions> = {}) {
  const waits: number[] = [];
  const options: PostOptions = {
    authorization: secret,
    signal: new AbortController().signal,
    sleep: async (seconds) => void waits.push(seconds),
    timeoutSeconds: 5,
    backoffSeconds: [2, 4],
    ...changes,
  };
  return postNotice(sampleEndNotice(), url, options).then((result) => ({ result, waits }));
}

describe('posting a notice', () => {
  it('sends the JSON once with the header from the environment', async () => {
    const { url, received } = await localServer((_, __, response) => response.writeHead(204).end());
    expect(await post(url)).toEqual({ result: { ok: true, value: 'answered 204' }, waits: [] });
    expect(received).toHaveLength(1);
    const [only] = received;
    expect(only).toMatchObject({ method: 'POST', url: '/told' });
    expect(only?.headers).toMatchObject({
      authorization: secret,
      'content-type': 'application/json',
    });
    expect(JSON.parse(only?.body ?? '')).toEqual(sampleEndNotice());
  });

  it('sends no such header where there is none', async () => {
    const { url, received } = await localServer((_, __, response) => response.end());
    await post(url, { authorization: null });
    expect(received[0]?.headers).not.toHaveProperty('authorization');
  });

  it.each([500, 502, 503, 429, 408])(
    'tries again after %i, waiting longer each time',
    async (status) => {
      const { url, received } = await localServer((count, _, response) =>
        response.writeHead(count < 3 ? status : 200).end(),
      );
      expect(await post(url)).toEqual({
        result: { ok: true, value: 'answered 200' },
        waits: [2, 4],
      });
      expect(received).toHaveLength(3);
    },
  );

  it('gives up after three tries', async () => {
    const { url, received } = await localServer((_, __, response) => response.writeHead(503).end());
    const { result } = await post(url);
    expect(result).toEqual({ ok: false, error: 'answered 503, 3 tries' });
    expect(received).toHaveLength(3);
  });

  it.each([400, 401, 404, 410])('does not try again after %i', async (status) => {
    const { url, received } = await localServer((_, __, response) =>
      response.writeHead(status).end(),
    );
    expect((await post(url)).result).toEqual({ ok: false, error: `answered ${status}` });
    expect(received).toHaveLength(1);
  });

  it('does not wait for a server that takes it and never answers', async () => {
    const { url, received } = await localServer(() => undefined);
    const { result } = await post(url, { timeoutSeconds: 0.2 });
    expect(result).toEqual({ ok: false, error: 'no answer within 0.2 s, 3 tries' });
    expect(received.length).toBeGreaterThan(0);
  });

  it('does not wait for one that accepts and is silent, or sends a byte now and then', async () => {
    const silent = await rawServer(() => undefined);
    const slow = await rawServer((socket) => {
      const timer = setInterval(() => socket.write('H'), 20);
      socket.on('close', () => clearInterval(timer));
    });
    for (const url of [silent, slow]) {
      const { result } = await post(url, { timeoutSeconds: 0.2, backoffSeconds: [] });
      expect(result).toMatchObject({ ok: false });
    }
  });

  it('takes the status of an answer whose body never ends', async () => {
    const { url } = await localServer((_, __, response) => {
      response.writeHead(200);
      const timer = setInterval(() => response.write('x'.repeat(65_536)), 1);
      response.on('close', () => clearInterval(timer));
    });
    expect((await post(url)).result).toEqual({ ok: true, value: 'answered 200' });
  });

  it('says what came instead of an answer', async () => {
    const garbage = await rawServer((socket) => socket.end('\u0000\u0001 this is no HTTP\n\n'));
    expect((await post(garbage)).result).toEqual({
      ok: false,
      error: expect.stringMatching(/^no answer \((HPE_\w+|UND_ERR_\w+)\), 3 tries$/),
    });
    const cut = await rawServer((socket) => socket.destroy());
    expect((await post(cut)).result).toMatchObject({ ok: false });
    const closed = createServer().listen(0, '127.0.0.1');
    await once(closed, 'listening');
    const { port } = closed.address() as { port: number };
    closed.close();
    await once(closed, 'close');
    expect((await post(new URL(`http://127.0.0.1:${port}/`))).result).toEqual({
      ok: false,
      error: 'no answer (ECONNREFUSED), 3 tries',
    });
  });

  it('follows a redirect that posts again on the same host', async () => {
    const { url, received } = await localServer((count, _, response) =>
      count === 1 ? response.writeHead(308, { location: '/there' }).end() : response.end(),
    );
    expect((await post(url)).result.ok).toBe(true);
    expect(received.map((request) => [request.method, request.url])).toEqual([
      ['POST', '/told'],
      ['POST', '/there'],
    ]);
    expect(received[1]?.body).toBe(received[0]?.body);
  });

  it('follows none to another host, which gets nothing', async () => {
    const other = await localServer((_, __, response) => response.end());
    const { url } = await localServer((_, __, response) =>
      response.writeHead(307, { location: other.url.href }).end(),
    );
    const { result } = await post(url);
    expect(result).toEqual({
      ok: false,
      error: `leads to another host (${other.url.origin}): not followed`,
    });
    expect(other.received).toEqual([]);
  });

  it.each([
    [302, '/there', 'answered 302, which does not post again: give the address that it leads to'],
    [303, '/there', 'answered 303, which does not post again: give the address that it leads to'],
    [307, 'http://[', 'answered 307 and leads to no address'],
    [308, undefined, 'answered 308 without saying where to'],
    [307, '/told', 'redirects without end'],
  ])('does not follow %i to %s', async (status, location, error) => {
    const { url } = await localServer((_, __, response) =>
      response.writeHead(status, location === undefined ? {} : { location }).end(),
    );
    expect((await post(url)).result).toEqual({ ok: false, error });
  });

  it('is given up at once when asked to, in a try or between two', async () => {
    const leaving = new AbortController();
    const { url } = await localServer(() => leaving.abort());
    expect((await post(url, { signal: leaving.signal })).result).toEqual({
      ok: false,
      error: 'given up',
    });
    const later = new AbortController();
    const busy = await localServer((_, __, response) => response.writeHead(503).end());
    const { result } = await post(busy.url, {
      signal: later.signal,
      sleep: async () => later.abort(),
    });
    expect(result).toEqual({ ok: false, error: 'answered 503, then given up' });
    expect(busy.received).toHaveLength(1);
  });
});
