import type { ShippedName } from '../../model/shipped.ts';
import type { Parameters } from '../../model/suite.ts';
import { knownCheck } from './known-checks.ts';
import { parseParameters } from './parameters.ts';

/** What a workload reports; figures in SI base units. */
export interface WorkloadReport {
  /** Of the measured work alone. */
  readonly seconds: number;
  /** Of the result: equal on every machine and for every number of threads. */
  readonly check: string;
  readonly [figure: string]: number | string;
}

/**
 * The frame of every shipped program: parameters from the command line, one JSON line at the end. A wrong result or
 * any other failure is a message on standard error and exit code 1, bad parameters exit code 2.
 */
export async function runProgram(
  name: ShippedName,
  work: (parameters: Parameters) => Promise<WorkloadReport>,
): Promise<void> {
  const parameters = parseParameters(name, process.argv[2]);
  if (!parameters.ok) {
    process.stderr.write(`${name}: ${parameters.error}\n`);
    process.exitCode = 2;
    return;
  }
  try {
    const report = await work(parameters.value);
    const known = knownCheck(name, parameters.value);
    if (known !== null && known !== report.check)
      throw new Error(`wrong result: check value ${report.check}, expected ${known}`);
    process.stdout.write(`${JSON.stringify({ workload: name, ...report })}\n`);
  } catch (error) {
    process.stderr.write(`${name}: ${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = 1;
  }
}
