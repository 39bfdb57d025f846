import { err, ok, type Result } from '../lib/result.ts';
import { suggest } from '../lib/suggest.ts';
import type { Expected } from '../model/campaign.ts';
import { catalogEntry, inventoryCatalog } from '../model/inventory-catalog.ts';
import { toBaseUnit, type UnitCode, unitMeaning } from '../model/unit.ts';
import { parseSize } from '../suite/quantity.ts';

/** Units that such a reading may be given in, with an example; the first is offered for a bare number. */
const unitsOf: Readonly<Record<UnitCode, readonly string[]>> = {
  By: ['GiB', 'MiB', 'KiB', 'TiB', 'B', 'kB', 'MB', 'GB', 'TB'],
  Hz: ['MHz', 'GHz', 'kHz', 'Hz'],
  W: ['W', 'mW', 'kW'],
  s: ['s', 'ms', 'us', 'ns'],
  V: ['V', 'mV'],
  Cel: ['°C'],
  '{transfers}/s': ['MT/s', 'GT/s'],
};

/** Not in the table of units, since no figure is measured in them. */
const factors: Readonly<Record<string, number>> = { 'MT/s': 1e6, 'GT/s': 1e9, V: 1, mV: 1e-3 };

/** Paths of readings that an expectation may name; `memory.modules.size` speaks of every module. */
const readablePaths: readonly string[] = Object.entries(inventoryCatalog)
  .flatMap(([section, { readings, items }]) => [
    ...Object.keys(readings).map((name) => `${section}.${name}`),
    ...Object.entries(items).flatMap(([list, { fields }]) =>
      Object.keys(fields).map((name) => `${section}.${list}.${name}`),
    ),
  ])
  .filter((path) => catalogEntry(path)?.moves === false);

/** What is wrong with the name of a reading; null where the inventory has it and it stays as it is between looks. */
export function checkPath(path: string): string | null {
  const entry = catalogEntry(path);
  if (entry === null) {
    const near = suggest(path, readablePaths.map(plain));
    const proper = readablePaths.find((known) => plain(known) === near);
    const hint =
      proper === undefined
        ? 'expected one such as `memory.total` or `board.name`; `steadyrig inventory --json` lists them'
        : `did you mean \`${proper}\`?`;
    return `the inventory has no reading \`${path.slice(0, 60)}\`; ${hint}`;
  }
  if (!entry.moves) return null;
  return `\`${path}\` changes by itself between two looks at an unchanged rig; remove it`;
}

/** What `suggest` compares with: it takes words in lower case. */
function plain(path: string): string {
  return path.toLowerCase();
}

/** An expectation from its text: a number in the base unit of the reading, or text as it is. The path is one that `checkPath` passes. */
export function parseExpectation(path: string, text: string): Result<Expected, string> {
  const unit = catalogEntry(path)?.unit ?? null;
  if (unit === null) return ok({ path, text, number: null });
  const value = unit === '1' ? parseCount(text) : parseNumber(text, unit);
  return value.ok ? ok({ path, text, number: { value: value.value, unit } }) : value;
}

function parseCount(text: string): Result<number, string> {
  if (/^\d{1,15}(\.\d{1,15})?$/.test(text)) return ok(Number(text));
  return err(`\`${text}\` is not a number; expected one without a unit, such as \`4\``);
}

function parseNumber(text: string, unit: UnitCode): Result<number, string> {
  if (unit === 'By') return parseSize(text);
  const units = unitsOf[unit] ?? [];
  const [example = ''] = units;
  const [, digits, name] =
    /^(-?\d{1,15}(?:\.\d{1,15})?)(?:[ \u00a0\u202f]?(\S.*))?$/.exec(text) ?? [];
  if (digits === undefined)
    return err(`\`${text}\` is not a number with a unit; write one in \`${example}\``);
  if (name === undefined) return err(`\`${text}\` has no unit; write \`${digits} ${example}\``);
  if (!units.includes(name)) {
    const near = units.find((known) => known.toLowerCase() === name.toLowerCase());
    const hint =
      near === undefined
        ? `expected one of ${units.map((known) => `\`${known}\``).join(', ')}`
        : `did you mean \`${near}\`?`;
    return err(
      `\`${text}\` has the unit \`${name.slice(0, 20)}\`, which this reading is not given in; ${hint}`,
    );
  }
  return ok(toBaseUnit(Number(digits), factors[name] ?? unitMeaning(name).factor));
}
