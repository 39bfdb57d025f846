import { describe, expect, it } from 'vitest';
import { parseEntryPath, staysInside } from '../../../../src/prepare/archive/entry-path.ts';

describe('the path of an entry', () => {
  it('loses dots and doubled slashes, and may not lead out', () => {
    expect(parseEntryPath('./a//b/./c/')).toEqual({ ok: true, value: ['a', 'b', 'c'] });
    expect(parseEntryPath('./')).toEqual({ ok: true, value: [] });
    for (const name of ['/etc/passwd', '//x', '..', 'a/../../b', 'a/..', 'a\0b'])
      expect(parseEntryPath(name), name).toMatchObject({ ok: false });
    expect(parseEntryPath('..a/b..')).toEqual({ ok: true, value: ['..a', 'b..'] });
  });
});

describe('a symbolic link', () => {
  const stays = (path: string, target: string, others: Record<string, string> = {}): boolean =>
    staysInside(path.split('/'), target, new Map([...Object.entries(others), [path, target]]));

  it('may lead upwards as far as the unpacked folder reaches', () => {
    expect(stays('a/b/link', '../../c')).toBe(true);
    expect(stays('a/b/link', '../../../c')).toBe(false);
    expect(stays('link', '..')).toBe(false);
    expect(stays('link', '/etc')).toBe(false);
    expect(stays('link', 'not/there')).toBe(true);
  });

  it('is followed through other links, as the kernel does', () => {
    // `p/q/up/..` looks like `p/q`, and is the folder above the root.
    expect(stays('out', 'p/q/up/..', { 'p/q/up': '../..' })).toBe(false);
    expect(stays('fine', 'p/q/up/x', { 'p/q/up': '../..' })).toBe(true);
    expect(stays('deep', 'down/..', { down: 'a/b' })).toBe(true);
    expect(stays('far', 'root', { root: '/etc' })).toBe(false);
  });

  it('may not go round in circles', () => {
    expect(stays('one', 'two', { two: 'one' })).toBe(false);
    expect(stays('self', 'self')).toBe(false);
  });
});
