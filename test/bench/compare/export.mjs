// The figures of a store as steadyrig exports them, for others to read: Parquet, and CSV where Parquet cannot be read.
import { closeSync, openSync, readdirSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { renderFiguresCsv } from '../../../dist/report/figures/csv.js';
import { renderFiguresParquet } from '../../../dist/report/figures/parquet.js';
import { figureRows } from '../../../dist/results/figure-rows.js';
import { readSitting } from '../../../dist/results/read-sitting.js';

const [results, out] = process.argv.slice(2);
const rows = [];
for (const name of readdirSync(results).sort()) {
  const stored = await readSitting(join(results, name));
  if (!stored.ok) throw new Error(JSON.stringify(stored.error));
  rows.push(...figureRows(stored.value));
}
writeFileSync(`${out}.parquet`, renderFiguresParquet(rows, '0.1.0'));
const file = openSync(`${out}.csv`, 'w');
for (let at = 0; at < rows.length; at += 20_000) {
  const text = renderFiguresCsv(rows.slice(at, at + 20_000));
  writeSync(file, at === 0 ? text : text.slice(text.indexOf('\r\n') + 2));
}
closeSync(file);
console.log(JSON.stringify({ figures: rows.length }));
