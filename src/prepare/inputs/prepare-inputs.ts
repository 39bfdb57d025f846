import { chmod, mkdir } from 'node:fs/promises';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Finding } from '../../model/finding.ts';
import type { InputProbe, PreparedInput } from '../../model/preparation.ts';
import { unpack } from '../archive/unpack.ts';
import { hashTree } from './hash-tree.ts';
import { type Kept, keepInCache } from './keep-in-cache.ts';
import { type GeneratorPlace, runGenerator } from './run-generator.ts';

export interface Preparation {
  /** One for each probe, in their order. */
  readonly inputs: readonly PreparedInput[];
  /** What was found damaged and made again. */
  readonly notes: readonly Finding[];
}

/** Makes, unpacks and checks what runs will read; `onMake` is told what takes a while. The error is why a sitting cannot begin. */
export async function prepareInputs(
  probes: readonly InputProbe[],
  generator: GeneratorPlace,
  onMake: (probe: InputProbe) => void = () => undefined,
): Promise<Result<Preparation, readonly Finding[]>> {
  const inputs: PreparedInput[] = [];
  const notes: Finding[] = [];
  // Several workloads often read one input: it is made and checked once.
  const kept = new Map<string, Result<Kept, string>>();
  for (const probe of probes) {
    const path = probe.cachePath ?? probe.file?.path;
    if (path === undefined) throw new Error('internal error: an input that cannot be used');
    if (probe.cachePath !== null && !kept.has(path)) {
      const result = await keep(probe, path, generator, onMake);
      kept.set(path, result);
      if (result.ok && result.value.how === 'made-again') notes.push(madeAgain(probe, path));
    }
    const prepared = judge(probe, path, kept.get(path) ?? null);
    if (!prepared.ok) return err([refuse(probe, prepared.error)]);
    inputs.push(prepared.value);
  }
  return ok({ inputs, notes });
}

function keep(
  probe: InputProbe,
  path: string,
  generator: GeneratorPlace,
  onMake: (probe: InputProbe) => void,
): Promise<Result<Kept, string>> {
  const { input, file } = probe;
  if (input.kind === 'generated')
    return keepInCache(path, async (temporary) => {
      onMake(probe);
      const made = await runGenerator(input, temporary, generator);
      if (made.ok) await chmod(temporary, 0o444);
      return made;
    });
  return keepInCache(path, async (temporary) => {
    onMake(probe);
    await mkdir(temporary, 0o755);
    const unpacked = await unpack(file?.path ?? '', temporary);
    return unpacked.ok ? ok(await hashTree(temporary)) : unpacked;
  });
}

function judge(
  { workload, name, input, file }: InputProbe,
  path: string,
  kept: Result<Kept, string> | null,
): Result<PreparedInput, string> {
  if (kept?.ok === false) return kept;
  if (file !== null) return ok({ workload, name, path, bytes: file.bytes, sha256: file.sha256 });
  if (kept === null) throw new Error('internal error: an input that is neither a file nor kept');
  const { size: bytes, sha256 } = kept.value.sum;
  if (input.sha256 === null || input.sha256 === sha256)
    return ok({ workload, name, path, bytes, sha256 });
  return err(`has SHA-256 ${sha256}, the suite expects ${input.sha256}`);
}

function refuse({ workload, name, input }: InputProbe, fault: string): Finding {
  const what =
    input.kind === 'generated' ? `generated input ${name}` : `input ${name}: ${input.path}`;
  const remedy =
    input.kind === 'generated'
      ? 'run it again, or check the cache folder and the checksum that the suite states'
      : 'use an archive that can be unpacked safely';
  return { check: 'inputs', severity: 'refuse', workload, message: `${what} ${fault}`, remedy };
}

function madeAgain({ workload, name }: InputProbe, path: string): Finding {
  return {
    check: 'inputs',
    severity: 'note',
    workload,
    message: `input ${name} was no longer what had been put into the cache, and was made again in ${path}`,
    remedy: 'let nothing else write there; when it happens again, check memory and disk',
  };
}
