import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parametersOf, runWorkload, runWorkloadWith } from './run-workload.ts';

const renderFolder = new URL('../../../src/workloads/render/', import.meta.url);

const small = JSON.stringify(parametersOf('path-trace', { width: 80, height: 45, samples: 4 }));
// Found on one machine: every other one must reach it too.
const checksum = 'e73155fd09141e106ff6dc9b470094cf4731909e4191d5588d8cef9250795777';

describe('the picture of the harbour', () => {
  it('has its known checksum and is left as a PNG', () => {
    const { report, image } = runWorkload('path-trace', small);
    expect(report['check']).toBe(checksum);
    expect(
      Buffer.from(image ?? [])
        .subarray(1, 4)
        .toString('latin1'),
    ).toBe('PNG');
  });

  it('is the same when the engine interprets it without compiling', () => {
    expect(
      runWorkloadWith({ nodeOptions: ['--jitless'] }, 'path-trace', small).report['check'],
    ).toBe(checksum);
  });

  it('that cannot be written is a failure with the reason', () => {
    const arrange = (folder: string) => mkdirSync(join(folder, 'image.png'));
    const done = runWorkloadWith({ arrange }, 'path-trace', small);
    expect(done.code).toBe(1);
    expect(done.stdout).toBe('');
    expect(done.stderr).toMatch(/^path-trace: EISDIR/);
  });

  it('is made with correctly rounded operations only', () => {
    // ECMA-262 leaves the last bit of every other Math function and of ** to the engine.
    const exact = new Set(['abs', 'ceil', 'floor', 'imul', 'max', 'min', 'sqrt']);
    for (const file of readdirSync(renderFolder)) {
      const source = readFileSync(new URL(file, renderFolder), 'utf8');
      const code = source.replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*/g, '');
      const used = [...code.matchAll(/\bMath\.(\w+)/g)].map((match) => match[1] ?? '');
      expect(
        used.filter((name) => !exact.has(name)),
        file,
      ).toEqual([]);
      expect(code, file).not.toContain('**');
    }
  });
});
