import { readdir, readFile } from 'node:fs/promises';
import { homedir, hostname, userInfo } from 'node:os';
import { join } from 'node:path';
import type { PrivateLiteral } from '../lib/scrub-text.ts';

/** Files that name this one machine; the patterns of `scrubText` find addresses and UUIDs by their shape. */
const serialFiles: readonly (readonly [folder: string, file: RegExp])[] = [
  ['sys/class/dmi/id', /^(?:.*_serial|.*_asset_tag|product_uuid)$/],
  ['etc', /^machine-id$/],
];
const serialFolders: readonly (readonly [folder: string, file: string])[] = [
  ['sys/class/nvme', 'serial'],
  ['sys/class/block', 'device/serial'],
  ['sys/class/net', 'address'],
];

/** Words that firmware puts where a serial number is missing; they may stay. */
const fillers = /^(?:none|unknown|default string|to be filled by o\.e\.m\.|not specified|0+)$/i;

/**
 * Words of this machine and user that may not enter a result, for `scrubText`: host and user name, home path, and
 * the serial numbers that can be read; `otherUser` is whom workloads run as. Never written anywhere.
 */
export async function privateLiterals(
  root: string,
  otherUser: string | null = null,
): Promise<readonly PrivateLiteral[]> {
  const literals: PrivateLiteral[] = [...operatorLiterals()];
  if (otherUser !== null) literals.push({ text: otherUser, placeholder: '<user>' });
  for (const path of await serialPaths(root)) {
    const text = (await readFile(path, 'utf8').catch(() => '')).trim();
    if (text.length >= 5 && !fillers.test(text)) literals.push({ text, placeholder: '<serial>' });
  }
  return literals;
}

function operatorLiterals(): readonly PrivateLiteral[] {
  return [
    { text: accountText(homedir), placeholder: '<home>' },
    { text: hostname(), placeholder: '<host>' },
    { text: accountText(() => userInfo().username), placeholder: '<user>' },
  ].filter(({ text }) => text.length > 1 && !['root', 'localhost'].includes(text));
}

/** Empty where this process runs under a number without an account, as in many containers. */
function accountText(read: () => string): string {
  try {
    return read();
  } catch {
    return '';
  }
}

async function serialPaths(root: string): Promise<readonly string[]> {
  const paths: string[] = [];
  for (const [folder, pattern] of serialFiles) {
    const names = await readdir(join(root, folder)).catch(() => []);
    paths.push(
      ...names.filter((name) => pattern.test(name)).map((name) => join(root, folder, name)),
    );
  }
  for (const [folder, file] of serialFolders) {
    const names = await readdir(join(root, folder)).catch(() => []);
    paths.push(...names.map((name) => join(root, folder, name, file)));
  }
  return paths;
}
