import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { makeCorpus } from '../../../src/workloads/corpus/corpus.ts';
import { needs } from '../../setup/needs.ts';
import { parametersOf, runWorkload } from './run-workload.ts';

const python = needs.program('python3');

describe('the hash workload', () => {
  // FIPS 180-4's examples "abc" and one million times "a". SHA-256: as quoted in public test suites; SHA-1 and SHA-512
  // from memory. The Python test below confirms the functions independently.
  it.each([
    ['sha1', 'abc', 1, 'a9993e364706816aba3e25717850c26c9cd0d89d'],
    ['sha256', 'abc', 1, 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    ['sha256', 'a', 1_000_000, 'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0'],
    [
      'sha512',
      'abc',
      1,
      'ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f',
    ],
  ])(
    'rests on %s, which gives the published digest of %j times %i',
    (name, text, times, digest) => {
      expect(createHash(name).update(text.repeat(times)).digest('hex')).toBe(digest);
    },
  );

  it.skipIf(python.missing).each([
    ['sha256', 'sha256'],
    ['sha512', 'sha512'],
    ['sha3-256', 'sha3_256'],
    ['blake2b512', 'blake2b'],
    ['sha1', 'sha1'],
  ])('reports the %s that Python finds', (algorithm, pythonName) => {
    const parameters = parametersOf('hash', { algorithm, size: 100_000, passes: 5, threads: 2 });
    const { report, stderr } = runWorkload('hash', JSON.stringify(parameters));
    expect(stderr).toBe('');
    const script = `import hashlib,sys;print(hashlib.${pythonName}(sys.stdin.buffer.read()).hexdigest())`;
    const input = makeCorpus('mixed', 100_000, 1);
    const found = execFileSync(python.path, ['-c', script], { input, encoding: 'utf8' });
    expect(report['check']).toBe(found.trim());
  });
});
