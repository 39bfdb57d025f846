import type { RigFiles } from '../../../src/rig/rig-files.ts';

export function systemError(code: string): Error {
  return Object.assign(new Error(`${code}: made up by a test`), { code });
}

/** Files by path; an Error in place of a text is what reading that file rejects with. */
export function memoryFiles(texts: Readonly<Record<string, string | Error>>): RigFiles {
  const paths = Object.keys(texts);
  return {
    readText: async (path) => {
      const text = texts[path];
      if (text === undefined) throw systemError('ENOENT');
      if (typeof text !== 'string') throw text;
      return text;
    },
    list: async (path) => {
      const below = paths.filter((each) => each.startsWith(`${path}/`));
      if (below.length === 0) throw systemError('ENOENT');
      return [...new Set(below.map((each) => each.slice(path.length + 1).split('/')[0] ?? ''))];
    },
    readLink: async () => {
      throw systemError('EINVAL');
    },
  };
}

/** The same files, but reading those that match rejects with this error. */
export function failingFiles(files: RigFiles, pattern: RegExp, error: Error): RigFiles {
  return {
    ...files,
    readText: async (path) => {
      if (pattern.test(path)) throw error;
      return files.readText(path);
    },
  };
}
