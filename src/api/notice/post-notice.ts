import { err, ok, type Result } from '../../lib/result.ts';
import type { EndNotice } from '../../model/end-notice.ts';
import { toolVersion } from '../version.ts';

export interface PostOptions {
  /** Value of the Authorization header. Never part of a message. */
  readonly authorization: string | null;
  /** Gives up at once. */
  readonly signal: AbortSignal;
  readonly sleep: (seconds: number, signal: AbortSignal) => Promise<void>;
  /** Of each try. */
  readonly timeoutSeconds: number;
  /** Between the tries: one more try than waits. */
  readonly backoffSeconds: readonly number[];
}

/** What a try came to; `isFinal` when another would come to the same. */
type Answer =
  | { readonly ok: true; readonly status: number }
  | { readonly ok: false; readonly why: string; readonly isFinal: boolean };

const redirectsFollowed = 3;

/** Posts a notice as JSON, in several tries. The result is what to say of it: the status, or why it could not be told. */
export async function postNotice(
  notice: EndNotice,
  url: URL,
  options: PostOptions,
): Promise<Result<string, string>> {
  const { signal, sleep, backoffSeconds } = options;
  for (let tries = 1; ; tries += 1) {
    const answer = await tryOnce(notice, url, options);
    if (answer.ok) return ok(`answered ${answer.status}`);
    const wait = backoffSeconds[tries - 1];
    const often = tries === 1 ? '' : `, ${tries} tries`;
    if (answer.isFinal || wait === undefined) return err(`${answer.why}${often}`);
    await sleep(wait, signal);
    if (signal.aborted) return err(`${answer.why}${often}, then given up`);
  }
}

async function tryOnce(notice: EndNotice, first: URL, options: PostOptions): Promise<Answer> {
  const { authorization, timeoutSeconds } = options;
  const timeout = AbortSignal.timeout(timeoutSeconds * 1000);
  const signal = AbortSignal.any([options.signal, timeout]);
  let url = first;
  try {
    for (let followed = 0; followed <= redirectsFollowed; followed += 1) {
      const response = await fetch(url, {
        method: 'POST',
        headers: {
          'content-type': 'application/json',
          'user-agent': `steadyrig/${toolVersion}`,
          ...(authorization === null ? {} : { authorization }),
        },
        body: JSON.stringify(notice),
        redirect: 'manual',
        signal,
      });
      // Only the status counts; a body may be endless.
      await response.body?.cancel().catch(() => undefined);
      const next = redirectOf(response, url);
      if (next === null) return judgeStatus(response.status);
      if (typeof next === 'string') return { ok: false, why: next, isFinal: true };
      url = next;
    }
    return { ok: false, why: 'redirects without end', isFinal: true };
  } catch (error) {
    if (options.signal.aborted) return { ok: false, why: 'given up', isFinal: true };
    const why = timeout.aborted ? `no answer within ${timeoutSeconds} s` : faultText(error);
    return { ok: false, why, isFinal: false };
  }
}

function judgeStatus(status: number): Answer {
  if (status >= 200 && status < 300) return { ok: true, status };
  // Busy, too many, or a fault of the server: a later try may do.
  const isFinal = status < 500 && status !== 408 && status !== 429;
  return { ok: false, why: `answered ${status}`, isFinal };
}

/**
 * Where a redirect leads, null without one; a text when it is not followed. Only 307 and 308 post again, and only the
 * same origin gets what may be secret.
 */
function redirectOf({ status, headers }: Response, from: URL): URL | string | null {
  if (status < 300 || status >= 400) return null;
  const location = headers.get('location');
  if (location === null) return `answered ${status} without saying where to`;
  if (!URL.canParse(location, from.href)) return `answered ${status} and leads to no address`;
  const to = new URL(location, from);
  if (to.origin !== from.origin) return `leads to another host (${to.origin}): not followed`;
  if (status === 307 || status === 308) return to;
  return `answered ${status}, which does not post again: give the address that it leads to`;
}

/** The cause in the network, without the address: that may hold a secret. */
function faultText(error: unknown): string {
  const cause = error instanceof Error ? (error.cause ?? error) : error;
  const code = cause instanceof Error && 'code' in cause ? String(cause.code) : 'not reached';
  return `no answer (${code})`;
}
