import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import type { Finding } from '../../model/finding.ts';
import type { CheckContext } from '../check.ts';

/** Inputs are there and are the ones the suite was written for. */
export async function checkInputs({ suite, folder }: CheckContext): Promise<readonly Finding[]> {
  const findings: Finding[] = [];
  for (const { id, inputs } of suite.workloads) {
    for (const input of Object.values(inputs)) {
      if (input.kind === 'generated') continue;
      const { path, sha256 } = input;
      const found = await hashFile(join(folder, path));
      if (found === null) {
        findings.push(refuse(id, `input ${path} cannot be read`, 'put the file there'));
      } else if (sha256 !== null && found !== sha256) {
        const message = `input ${path} has SHA-256 ${found}, the suite expects ${sha256}`;
        findings.push(
          refuse(id, message, 'restore the file, or correct the suite and raise its revision'),
        );
      }
    }
  }
  return findings;
}

async function hashFile(path: string): Promise<string | null> {
  try {
    const hash = createHash('sha256');
    for await (const part of createReadStream(path)) hash.update(part as Buffer);
    return hash.digest('hex');
  } catch {
    return null;
  }
}

function refuse(workload: string, message: string, remedy: string): Finding {
  return { check: 'inputs', severity: 'refuse', workload, message, remedy };
}
