import { groupBy } from '../../lib/group-by.ts';
import type { Part } from '../../model/campaign.ts';
import type { MeasureStep, NextStep, PartSwap } from '../../model/campaign-progress.ts';
import { wrapText } from '../text-table.ts';

const width = 80;

/** What to do now, and how the rig for it is built; 80 columns. */
export function renderStep(step: NextStep): string {
  switch (step.kind) {
    case 'done':
      return 'next: nothing is left to measure';
    case 'continue':
      return wrapped(`next: continue the open sitting ${step.sitting} of ${step.rig}`);
    case 'enter':
      return wrapped(
        `next: enter the figures read by hand that ${step.sitting} of ${step.rig} waits for, with steadyrig enter`,
      );
    case 'measure':
      return [wrapped(`next: ${measureText(step)}`), ...swapLines(step.rig, step.swap)].join('\n');
  }
}

function wrapped(text: string): string {
  return wrapText(text, width, '  ');
}

function measureText({ rig, number, of, assembly, isReturn }: MeasureStep): string {
  const what = isReturn ? `${rig}, the baseline measured again` : rig;
  return `${what}: sitting ${number} of ${of}, assembly ${assembly}`;
}

function swapLines(rig: string, swap: PartSwap | null): readonly string[] {
  if (swap === null) return ['no swap: the rig stands as it was measured last'];
  const { from, takeOut, putIn, reseat } = swap;
  if (from === null) return [`build ${rig} from:`, ...partLines('', putIn)];
  if (reseat.length > 0) {
    return [
      wrapped(`build ${rig} anew: take these out and put the same ones in again`),
      ...partLines('', reseat),
    ];
  }
  const lines = [...partLines('- take out ', takeOut), ...partLines('+ put in ', putIn)];
  const heading = `from ${from}, which was built last:`;
  return lines.length === 0
    ? [
        wrapped(
          `${from}, which was built last, has the same parts: take it apart and build it anew`,
        ),
      ]
    : [heading, ...lines];
}

/** Like parts on one line. */
function partLines(label: string, parts: readonly Part[]): readonly string[] {
  return [...groupBy(parts, ({ id }) => id).values()].map((own) => {
    const [{ name, role }] = own;
    const times = own.length === 1 ? '' : `${own.length} x `;
    return wrapText(`${label}${times}${name} (${role})`, width - 2, '    ').replace(/^/gm, '  ');
  });
}
