import { type BasicType, parquetWriteBuffer } from 'hyparquet-writer';
import { type FigureRow, figureColumns } from '../../model/figure-row.ts';

const types: Partial<Record<keyof FigureRow, BasicType>> = {
  repeat: 'INT32',
  attempt: 'INT32',
  value: 'DOUBLE',
  started_at: 'TIMESTAMP',
};
const nullable: readonly (keyof FigureRow)[] = ['profile', 'levels', 'entry', 'bound', 'excluded'];

/** Figures as an Apache Parquet file: `value` a double, `repeat` and `attempt` 32-bit integers, `started_at` a timestamp, the others text. */
export function renderFiguresParquet(rows: readonly FigureRow[], version: string): Uint8Array {
  const buffer = parquetWriteBuffer({
    columnData: figureColumns.map((name) => ({
      name,
      type: types[name] ?? 'STRING',
      nullable: nullable.includes(name),
      data: rows.map((row) => (name === 'started_at' ? new Date(row[name]) : row[name])),
    })),
    createdBy: `steadyrig version ${version}`,
  });
  return new Uint8Array(buffer);
}
