import type { Acknowledgement } from '../model/sitting.ts';
import { renderCautions } from '../report/cautions-page.ts';
import { findAcknowledgement } from '../results/find-acknowledgement.ts';
import type { Operator } from '../runner/by-hand/operator.ts';
import { askLine } from './ask-line.ts';
import { terminalOperator } from './operator-prompt.ts';
import { printError } from './print.ts';

export interface AcknowledgeFlags {
  readonly acknowledge?: true;
  readonly unattended?: true;
  readonly json?: true;
}

/**
 * How the cautions are acknowledged: in an earlier sitting of this rig label, by the option, or by typing yes. They are
 * shown unless an earlier sitting has it. Null when they are not: then the reason is on standard error, and nothing may be measured.
 */
export async function acknowledge(
  { rig, results }: { readonly rig: string; readonly results: string },
  flags: AcknowledgeFlags,
): Promise<Acknowledgement | null> {
  const earlier = await findAcknowledgement(results, rig);
  if (earlier !== null) return earlier;
  const stream = flags.json ? process.stderr : process.stdout;
  const page = renderCautions(rig);
  if (flags.acknowledge) {
    stream.write(`${page}\n\nacknowledged by --acknowledge\n\n`);
    return { how: 'option', at: new Date().toISOString() };
  }
  const operator = flags.unattended ? null : terminalOperator(process.stdin, stream);
  if (operator === null) {
    printError(
      `${page}\n\nnobody can be asked without a terminal or with --unattended: give --acknowledge once you have read and accept this; nothing was measured`,
    );
    return null;
  }
  stream.write(`${page}\n\n`);
  if (await isAccepted(operator)) return { how: 'operator', at: new Date().toISOString() };
  printError('the cautions were not acknowledged: nothing was measured');
  return null;
}

/** Whether `yes` is typed; Ctrl-C and Ctrl-D are a no. */
export async function isAccepted(
  operator: Operator,
  prompt = 'Type yes to go on: ',
): Promise<boolean> {
  const answer = await askLine(operator, prompt);
  return answer?.toLowerCase() === 'yes';
}
