import type { CsvField } from '../../lib/csv-rows.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { PrivateLiteral } from '../../lib/scrub-text.ts';
import type { KnownFigureColumn } from '../../model/figure-row.ts';
import { rigLabelFault } from '../../results/layout.ts';
import type { Fault, GivenFigure } from './given-figure.ts';
import { idFault, sittingNameFault } from './name-faults.ts';
import { ownSitting } from './own-sitting.ts';
import { parseUnitCode } from './parse-unit-code.ts';
import { parseValue } from './parse-value.ts';
import type { Heading } from './read-heading.ts';

/** Suite of figures that name none. */
const defaultSuite = 'imported';

/** One figure, or all that is wrong with its row. */
export function parseRow(
  row: readonly CsvField[],
  { columns, count }: Heading,
  literals: readonly PrivateLiteral[],
): Result<GivenFigure, readonly Fault[]> {
  const start = row[0] ?? { line: 1, column: 1 };
  if (row.length !== count) {
    const comma = row.length > count ? ': a decimal comma looks like this; write a point' : '';
    const message = `the row has ${row.length} values, and the heading ${count} columns${comma}`;
    return err([{ line: start.line, column: start.column, message }]);
  }
  const field = (name: KnownFigureColumn): CsvField =>
    row[columns.get(name) ?? -1] ?? { ...start, text: '' };
  const faults: Fault[] = [];
  const check = (name: KnownFigureColumn, fault: string | null): void => {
    const { line, column } = field(name);
    if (fault !== null) faults.push({ line, column, message: `${name}: ${fault}` });
  };
  const [rig, sitting, workload, metric] = (['rig', 'sitting', 'workload', 'metric'] as const).map(
    (name) => field(name).text,
  ) as [string, string, string, string];
  const value = parseValue(field('value').text);
  const unit = parseUnitCode(field('unit').text);
  const suite = field('suite').text || (ownSitting(sitting, rig)?.suite ?? defaultSuite);
  const { text: repeat } = field('repeat');
  const { text: better } = field('better');
  const { text: bound } = field('bound');
  check('rig', rigLabelFault(rig));
  check('sitting', sittingNameFault(sitting, literals));
  check('workload', idFault(workload));
  check('metric', idFault(metric));
  check('suite', idFault(suite));
  check('repeat', repeatFault(repeat));
  check('value', value.ok ? null : value.error);
  check('unit', unit.ok ? null : unit.error);
  check('better', isDirection(better) ? null : `\`${better}\`; expected \`higher\` or \`lower\``);
  check('bound', isBound(bound) ? null : `\`${bound}\`; expected \`below\` or nothing`);
  if (!value.ok || !unit.ok || !isDirection(better) || faults.length > 0) return err(faults);
  const scaled = value.value * unit.value.factor;
  const isLost = !Number.isFinite(scaled) || (scaled === 0 && value.value !== 0);
  if (isLost) check('value', `\`${field('value').text}\` is out of range in the base unit`);
  if (faults.length > 0) return err(faults);
  const places = { metric: field('metric'), unit: field('unit'), better: field('better') };
  return ok({
    ...{ rig, sitting, suite, workload, metric, repeat: Number(repeat), better },
    ...{ value: scaled, unit: unit.value.code, bound: bound === '' ? null : 'below' },
    places: { ...places, suite: field(columns.has('suite') ? 'suite' : 'sitting') },
  });
}

function repeatFault(text: string): string | null {
  if (/^[1-9]\d{0,5}$/.test(text)) return null;
  return `\`${text}\`; expected a whole number from 1 to 999999`;
}

function isDirection(text: string): text is 'higher' | 'lower' {
  return text === 'higher' || text === 'lower';
}

function isBound(text: string): boolean {
  return text === '' || text === 'below';
}
