import type { CampaignRig, Expected } from '../model/campaign.ts';
import type { RigDeviation } from '../model/campaign-progress.ts';
import type { Inventory, Present, Reading } from '../model/inventory.ts';
import { readingText } from '../model/reading-text.ts';

/** Rounding of what is printed on parts: a disk of `960 GB` has 960.2 GB. Common practice, no source. */
const relativeTolerance = 0.005;

/** The usable memory is what is fitted less what firmware, kernel and graphics keep for themselves. Common practice, no source. */
const leastUsableShare = 0.8;

/**
 * How the inventory of a rig stands to what its campaign expects, one for each expectation. What cannot be read, or is not told,
 * is not visible; of a list, such as `memory.modules.size`, every item that tells has to fit.
 */
export function checkExpectations(
  { expect }: Pick<CampaignRig, 'expect'>,
  inventory: Inventory,
): readonly RigDeviation[] {
  return expect.map((expected) => {
    const present = readingsAt(inventory, expected.path).filter(isPresent);
    const kind = kindOf(expected, present);
    const texts = [...new Set(present.map((reading) => readingText(reading)))];
    const to = texts.length === 0 ? null : texts.join('; ');
    return { path: expected.path, from: expected.text, to, kind, against: 'expectation' };
  });
}

function kindOf(expected: Expected, present: readonly Present[]): RigDeviation['kind'] {
  if (present.length === 0) return 'not-visible';
  return present.every((reading) => fits(expected, reading)) ? 'expected' : 'unexpected';
}

function readingsAt({ sections }: Inventory, path: string): readonly Reading[] {
  const [section = '', name = '', field] = path.split('.');
  const found = Object.hasOwn(sections, section) ? sections[section] : undefined;
  if (found === undefined) return [];
  if (field === undefined)
    return Object.hasOwn(found.readings, name) ? [readingOf(found.readings[name])] : [];
  const items = Object.hasOwn(found.items, name) ? (found.items[name] ?? []) : [];
  return items.flatMap((item) => (Object.hasOwn(item, field) ? [readingOf(item[field])] : []));
}

function readingOf(reading: Reading | undefined): Reading {
  if (reading === undefined) throw new Error('internal error: a key without its reading');
  return reading;
}

function isPresent(reading: Reading): reading is Present {
  return reading.value !== null;
}

function fits({ path, text, number }: Expected, reading: Present): boolean {
  const { value } = reading;
  if (number === null || typeof value !== 'number') {
    return plain(readingText(reading)) === plain(text) || plain(String(value)) === plain(text);
  }
  if (path === 'memory.total') {
    return value <= number.value && value > leastUsableShare * number.value;
  }
  return Math.abs(value - number.value) <= relativeTolerance * Math.abs(number.value);
}

/** Names are typed by people: case and runs of blanks are no difference. */
function plain(text: string): string {
  return text.trim().toLowerCase().replace(/\s+/g, ' ');
}
