import { wrapText } from './text-table.ts';

const width = 80;

/** Cautions before machines are loaded for hours; common practice and owner's manuals, see DEVELOPERS.md. */
const cautions = [
  'Stay with the first runs of a newly built or changed machine. Stop when something smells, smokes, sparks or sounds wrong: Ctrl-C twice ends the load at once; if in doubt, switch the machine off.',
  "Keep to the makers' limits for temperature, power and voltage, and follow their manuals and the local electrical rules.",
  'Do not leave overclocked or undervolted parts running unattended.',
  'Plug into an earthed outlet that carries the load, keep air vents free, and have a smoke alarm that works where the machine stands.',
  'Case closed and fans free before power is on; never open a power supply. Leave mains wiring to licensed people.',
  'A temperature limit ends runs only where a sensor tells the temperature, and sensors can be missing or wrong: it does not replace your watching.',
] as const;

/** What has to be acknowledged before the first sitting of a rig label; 80 columns. */
export function renderCautions(rig: string): string {
  return [
    `Before the first sitting of ${rig}:`,
    '',
    wrapText('A suite loads this machine fully, for minutes to hours.', width),
    ...cautions.map((text) => wrapText(`- ${text}`, width, '  ')),
  ].join('\n');
}
