import type { EndTargets } from '../api/tell-end.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { findProgram } from '../runner/meter/find-program.ts';

export interface NotifyFlags {
  readonly notifyCommand?: string;
  readonly notifyUrl?: string;
}

/** Variables that may hold secrets: no process that this one starts gets them. */
const secrets = {
  authorization: 'STEADYRIG_NOTIFY_AUTHORIZATION',
  url: 'STEADYRIG_NOTIFY_URL',
} as const;

/**
 * Who is to be told of the end, from options and environment; null for nobody. The error says what is wrong with it, without
 * repeating what may be secret. The secrets are taken out of this process's environment.
 */
export function readNotifyTargets(flags: NotifyFlags): Result<EndTargets | null, string> {
  const authorization = process.env[secrets.authorization] ?? null;
  for (const name of Object.values(secrets)) delete process.env[name];
  const command = flags.notifyCommand === undefined ? ok(null) : parseCommand(flags.notifyCommand);
  if (!command.ok) return err(`option --notify-command: ${command.error}`);
  const url = flags.notifyUrl === undefined ? ok(null) : parseAddress(flags.notifyUrl);
  if (!url.ok) return err(`option --notify-url (or ${secrets.url}): ${url.error}`);
  if (command.value === null && url.value === null) return ok(null);
  // What a header may hold: RFC 9110, 5.5.
  if (authorization !== null && !/^[\x21-\x7e](?:[\x20-\x7e]*[\x21-\x7e])?$/.test(authorization)) {
    return err(`${secrets.authorization} is empty or holds characters that a header cannot have`);
  }
  const environment = { ...process.env };
  return ok({ command: command.value, url: url.value, authorization, environment });
}

/** A program's name, or program and arguments as a JSON array; found now, not after the night. */
export function parseCommand(text: string): Result<readonly [string, ...string[]], string> {
  const parts = text.startsWith('[') ? parseArray(text) : [text];
  const [program, ...args] = parts ?? [];
  const isWhole = [program, ...args].every((part) => part !== undefined && !part.includes('\0'));
  if (program === undefined || program.trim() === '' || !isWhole) {
    return err('a JSON array of program and arguments is needed, such as \'["tell", "the desk"]\'');
  }
  const found = findProgram(program, process.env['PATH'] ?? '', process.cwd());
  if (found.ok) return ok([found.value, ...args]);
  const hint = /\s/.test(text) && !text.startsWith('[');
  const how = hint ? '; give arguments as a JSON array: ["program", "argument"]' : '';
  return err(`${found.error.message}${how}`);
}

function parseArray(text: string): readonly string[] | null {
  try {
    const value: unknown = JSON.parse(text);
    return Array.isArray(value) && value.every((part) => typeof part === 'string') ? value : null;
  } catch {
    return null;
  }
}

/** An https address; http only on this machine. */
export function parseAddress(text: string): Result<URL, string> {
  if (!URL.canParse(text)) return err('an address is needed, such as https://desk.example/told');
  const url = new URL(text);
  if (url.username !== '' || url.password !== '') {
    return err(`give credentials in ${secrets.authorization}, not in the address`);
  }
  if (url.protocol === 'https:' || (url.protocol === 'http:' && isLocal(url.hostname))) {
    return ok(url);
  }
  return err(`${url.protocol}//${url.hostname}: https is needed (http only on localhost)`);
}

function isLocal(host: string): boolean {
  return host === 'localhost' || host === '[::1]' || /^127(?:\.\d{1,3}){3}$/.test(host);
}
