import type { Finding } from '../../model/finding.ts';
import { type CheckContext, rigFinding } from '../check.ts';

/** Sources outside the processor: asking them takes about a microsecond and more. Common practice, no source. */
const slow = new Set(['hpet', 'acpi_pm', 'jiffies', 'pit', 'refined-jiffies']);

/** The kernel's clock can be asked quickly. */
export function checkClockSource({ condition }: CheckContext): readonly Finding[] {
  const { clockSource } = condition;
  if (clockSource === null || !slow.has(clockSource)) return [];
  const message = `the kernel takes its time from ${clockSource}, which is slow or coarse to ask`;
  const remedy =
    'look for "clocksource" in dmesg: the kernel says there why it gave up tsc; a firmware update may cure it';
  return [rigFinding('clock-source', 'warn', message, remedy)];
}
