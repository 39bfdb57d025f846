import { createReadStream } from 'node:fs';
import { Writable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGunzip } from 'node:zlib';
import { Parser, type ReadEntry } from 'tar';
import { shown, type TreeWriter, UnpackRefusal } from './tree-writer.ts';

/** Unpacks a tar archive (POSIX ustar and pax, GNU long names), gzip-compressed or not. Rejects where it is damaged. */
export async function unpackTar(archive: string, isGzip: boolean, tree: TreeWriter): Promise<void> {
  const parser = new Parser({ strict: true });
  let isEnded = false;
  let work: Promise<void> = Promise.resolve();
  const sink = sinkOf(parser);
  const fail = (cause: unknown): void => {
    sink.destroy(cause instanceof Error ? cause : new Error(String(cause)));
  };
  parser.on('error', fail);
  parser.on('eof', () => {
    isEnded = true;
  });
  parser.on('entry', (entry: ReadEntry) => {
    work = work.then(() => addEntry(tree, entry));
    work.catch(fail);
  });
  const source = createReadStream(archive);
  if (isGzip) await pipeline(source, createGunzip(), sink);
  else await pipeline(source, sink);
  await work;
  // An archive cut off between two entries looks whole but for the blocks of zeros that must follow the last one.
  if (!isEnded) throw new UnpackRefusal('is truncated: the end mark is missing');
}

function sinkOf(parser: Parser): Writable {
  return new Writable({
    write: (part: Buffer, _encoding, done) => {
      if (parser.write(part)) done();
      else parser.once('drain', () => done());
    },
    final: (done) => {
      parser.once('end', () => done());
      parser.end();
    },
  });
}

async function addEntry(tree: TreeWriter, entry: ReadEntry): Promise<void> {
  const { path, type, linkpath = '', mode = 0 } = entry;
  switch (type) {
    case 'File':
    case 'OldFile':
    case 'ContiguousFile':
      return tree.addFile(path, (mode & 0o100) !== 0, entry);
    case 'Directory':
      tree.addFolder(path);
      break;
    case 'SymbolicLink':
      tree.addSymbolicLink(path, linkpath);
      break;
    case 'Link':
      tree.addHardLink(path, linkpath);
      break;
    case 'CharacterDevice':
    case 'BlockDevice':
    case 'FIFO':
      throw new UnpackRefusal(`has a device or pipe ${shown(path)}`);
    default:
      throw new UnpackRefusal(
        `has an entry ${shown(path)} of a kind that is not unpacked (${type})`,
      );
  }
  entry.resume();
}
