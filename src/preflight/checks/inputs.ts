import type { Finding } from '../../model/finding.ts';
import type { InputProbe } from '../../model/preparation.ts';
import type { Input } from '../../model/suite.ts';
import type { CheckContext } from '../check.ts';

/** The user's inputs are there and are the ones the suite was written for; what a sitting would make first is told. */
export function checkInputs({ inputs, cache, tellsPreparation }: CheckContext): readonly Finding[] {
  return inputs.flatMap((probe) => {
    if (probe.fault !== null) return [refuse(probe, probe.fault)];
    return tellsPreparation ? tell(probe, cache) : [];
  });
}

function refuse({ workload, name, input }: InputProbe, fault: string): Finding {
  const isOther = fault.startsWith('has SHA-256');
  return {
    check: 'inputs',
    severity: 'refuse',
    workload,
    message: `input ${input.kind === 'generated' ? name : input.path} ${fault}`,
    remedy: isOther
      ? 'restore the file, or correct the suite and raise its revision'
      : 'put the file there, or correct its path in the suite',
  };
}

function tell({ workload, name, input, cached }: InputProbe, cache: string): readonly Finding[] {
  if (input.kind === 'file') return [];
  const state = cached
    ? 'is in the cache, and is checked when a sitting begins'
    : 'is made when a sitting begins, and kept in the cache';
  return [
    {
      check: 'inputs',
      severity: 'note',
      workload,
      message: `input ${name} (${describe(input)}) ${state}`,
      remedy: `the cache is ${cache}`,
    },
  ];
}

function describe(input: Exclude<Input, { kind: 'file' }>): string {
  if (input.kind === 'archive') return `unpacked from ${input.path}`;
  return `${sizeText(input.sizeBytes)} of generated ${input.content}, seed ${input.seed}`;
}

function sizeText(bytes: number): string {
  const units = ['bytes', 'KiB', 'MiB', 'GiB'] as const;
  const power = Math.min(3, Math.floor(Math.log2(Math.max(1, bytes)) / 10));
  return `${Number((bytes / 1024 ** power).toPrecision(4))} ${units[power]}`;
}
