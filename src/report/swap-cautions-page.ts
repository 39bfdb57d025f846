import { wrapText } from './text-table.ts';

const width = 80;

/** Cautions before a computer is opened; owner's manuals and common practice, see DEVELOPERS.md. */
const cautions = [
  'Shut the system down. Switch the power supply off, unplug the mains cable and every other cable, hold the power button for some seconds, and wait.',
  'Touch unpainted metal of the case before you touch a part, or wear a wrist strap; hold boards and modules by their edges.',
  'Let heatsinks cool. Keep fingers and cables away from fans. Two people lift a heavy case.',
  'Never open a power supply: it holds a charge long after it is unplugged. Leave mains wiring to licensed people.',
  'A swollen battery: stop. Do not charge, press or puncture it; it needs disposal by specialists.',
  "Follow the makers' manuals for every part, and the local electrical rules.",
  'Close the case before power is on again, and stay with the first runs.',
] as const;

/** What has to be acknowledged before each swap of parts; 80 columns. */
export function renderSwapCautions(): string {
  return [
    'Before you open the machine:',
    '',
    ...cautions.map((text) => wrapText(`- ${text}`, width, '  ')),
  ].join('\n');
}
