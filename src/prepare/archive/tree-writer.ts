import {
  closeSync,
  fchmodSync,
  linkSync,
  mkdirSync,
  openSync,
  rmSync,
  symlinkSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { parseEntryPath, staysInside } from './entry-path.ts';

export interface UnpackLimits {
  /** Files, folders and links together, those folders too that only lead to something. */
  readonly entries: number;
  readonly bytes: number;
}

/** What an archive holds that may not be unpacked; `message` is a clause about the archive. */
export class UnpackRefusal extends Error {}

/**
 * Writes what an archive holds into an empty folder, and nothing anywhere else: names may not lead out, symbolic links
 * are made last and only where they stay inside, so that nothing is ever written through one. Files are read-only.
 * Each method throws an UnpackRefusal for what it will not write.
 */
export class TreeWriter {
  private readonly root: string;
  private readonly limits: UnpackLimits;
  private readonly folders = new Set<string>();
  private readonly files = new Set<string>();
  private readonly links = new Map<string, string>();
  private entries = 0;
  private bytes = 0;

  constructor(root: string, limits: UnpackLimits) {
    this.root = root;
    this.limits = limits;
  }

  addFolder(name: string): void {
    this.makeFolders(this.parse(name), name);
  }

  /** A file of the same name is replaced, as tar does. */
  async addFile(
    name: string,
    isExecutable: boolean,
    content: AsyncIterable<Uint8Array>,
  ): Promise<void> {
    const path = this.place(name);
    this.files.add(path);
    const file = openSync(join(this.root, path), 'wx', 0o600);
    try {
      for await (const part of content) {
        this.bytes += part.length;
        if (this.bytes > this.limits.bytes)
          throw new UnpackRefusal(`holds more than ${this.limits.bytes} bytes`);
        for (let at = 0; at < part.length; ) at += writeSync(file, part, at);
      }
      fchmodSync(file, isExecutable ? 0o555 : 0o444);
    } finally {
      closeSync(file);
    }
  }

  /** A second name for a file unpacked before. */
  addHardLink(name: string, target: string): void {
    const from = this.parse(target).join('/');
    if (!this.files.has(from))
      throw new UnpackRefusal(
        `has a hard link ${shown(name)} to ${shown(target)}, which is no file before it`,
      );
    if (this.parse(name).join('/') === from)
      throw new UnpackRefusal(`has a hard link ${shown(name)} to itself`);
    const path = this.place(name);
    linkSync(join(this.root, from), join(this.root, path));
    this.files.add(path);
  }

  addSymbolicLink(name: string, target: string): void {
    const path = this.place(name);
    this.links.set(path, target);
  }

  /** Makes the symbolic links; nothing is added afterwards. */
  finish(): void {
    for (const [path, target] of this.links) {
      if (!staysInside(path.split('/'), target, this.links))
        throw new UnpackRefusal(
          `has a link ${shown(path)} to ${shown(target)}, which leads out of it`,
        );
    }
    for (const [path, target] of this.links) symlinkSync(target, join(this.root, path));
  }

  private parse(name: string): readonly string[] {
    const parts = parseEntryPath(name);
    if (!parts.ok) throw new UnpackRefusal(`has an entry ${shown(name)} that ${parts.error}`);
    return parts.value;
  }

  /** Makes the folders that lead to a new file or link, and gives its path, where nothing lies any more. */
  private place(name: string): string {
    const parts = this.parse(name);
    const path = parts.join('/');
    if (parts.length === 0 || this.folders.has(path))
      throw new UnpackRefusal(`has a file or link ${shown(name)} that is also a folder`);
    this.makeFolders(parts.slice(0, -1), name);
    this.count();
    if (this.files.delete(path)) rmSync(join(this.root, path));
    this.links.delete(path);
    return path;
  }

  private makeFolders(parts: readonly string[], name: string): void {
    for (let depth = 1; depth <= parts.length; depth += 1) {
      const path = parts.slice(0, depth).join('/');
      if (this.folders.has(path)) continue;
      if (this.files.has(path) || this.links.has(path))
        throw new UnpackRefusal(
          `has an entry ${shown(name)} below ${shown(path)}, which is no folder`,
        );
      this.count();
      mkdirSync(join(this.root, path), 0o755);
      this.folders.add(path);
    }
  }

  private count(): void {
    this.entries += 1;
    if (this.entries > this.limits.entries)
      throw new UnpackRefusal(`holds more than ${this.limits.entries} files`);
  }
}

/** A name from an archive, safe to print. */
export function shown(name: string): string {
  return JSON.stringify(name.length > 200 ? `${name.slice(0, 200)}…` : name);
}
