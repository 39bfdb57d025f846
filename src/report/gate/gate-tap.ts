import { stringify } from 'yaml';
import type { Gate } from '../../model/gate.ts';
import { plainText } from '../comparison/plain-text.ts';
import { nameOf } from './gate-page.ts';

/** TAP version 14: a test point for each figure, with its numbers as a YAML block; what cannot be told is TODO where it passes. */
export function renderGateTap({ rows, suite, whenUnsure }: Gate): string {
  const points = rows.flatMap((row, at) => {
    const { finding, line, ratio, low, high, allowed, adjustedP, text } = row;
    const isOk = finding === 'held' || finding === 'better';
    const todo = finding === 'unsure' && whenUnsure !== 'fail' ? ' # TODO cannot be told' : '';
    const block = stringify({
      message: text,
      severity: isOk ? 'comment' : 'fail',
      finding,
      at: { file: suite.file, line },
      data: { ratio, low, high, allowed, adjustedP },
    });
    return [
      `${isOk ? 'ok' : 'not ok'} ${at + 1} - ${escapeDescription(nameOf(row))}${todo}`,
      '  ---',
      ...block
        .trimEnd()
        .split('\n')
        .map((one) => `  ${one}`),
      '  ...',
    ];
  });
  return ['TAP version 14', `1..${rows.length}`, ...points, ''].join('\n');
}

/** A number sign would begin a directive. */
function escapeDescription(text: string): string {
  return plainText(text).replace(/[\\#]/g, '\\$&');
}
