import { inverse, Matrix, QrDecomposition, SingularValueDecomposition } from 'ml-matrix';
import type { Variance } from './pooled-variance.ts';

/** A column of the model: one number for each run. */
export interface Column {
  readonly name: string;
  readonly values: readonly number[];
}

export interface LeastSquares {
  /** One for each column, in its order. */
  readonly coefficients: readonly number[];
  /** Standard error of each over that of one value: times the residual standard deviation it is the standard error. */
  readonly unitErrors: readonly number[];
  /** Rows of the inverse of R: what errors of sums of coefficients are made of (see `combineCoefficients`). */
  readonly inverseRows: readonly (readonly number[])[];
  readonly residualSquares: number;
  readonly residualDegreesOfFreedom: number;
}

/**
 * Fit of `response` by the columns, by Householder's QR. The columns are linearly independent (see `independentColumns`) and as
 * long as the response: all else is a programmer's fault.
 */
export function leastSquares(
  columns: readonly Column[],
  response: readonly number[],
): LeastSquares {
  const x = matrixOf(columns, response.length);
  const y = Matrix.columnVector([...response]);
  const qr = new QrDecomposition(x);
  const solution = qr.solve(y);
  const rest = Matrix.sub(y, x.mmul(solution)).to1DArray();
  const rows = inverse(qr.upperTriangularMatrix).to2DArray();
  return {
    coefficients: solution.to1DArray(),
    unitErrors: rows.map((row) => Math.hypot(...row)),
    inverseRows: rows,
    residualSquares: rest.reduce((total, value) => total + value * value, 0),
    residualDegreesOfFreedom: response.length - columns.length,
  };
}

/** A weighted sum of coefficients, and its standard error over that of one value: sqrt(c'(X'X)⁻¹c). */
export function combineCoefficients(
  { coefficients, inverseRows }: LeastSquares,
  weights: readonly number[],
): { readonly value: number; readonly unitError: number } {
  const value = coefficients.reduce((sum, one, at) => sum + one * (weights[at] ?? 0), 0);
  const parts = coefficients.map((_, column) =>
    inverseRows.reduce((sum, row, at) => sum + (row[column] ?? 0) * (weights[at] ?? 0), 0),
  );
  return { value, unitError: Math.hypot(...parts) };
}

/** The mean square that is left over; null where nothing is. */
export function residualVariance(fit: LeastSquares): Variance | null {
  const degreesOfFreedom = fit.residualDegreesOfFreedom;
  if (degreesOfFreedom <= 0) return null;
  return { value: fit.residualSquares / degreesOfFreedom, degreesOfFreedom };
}

export interface IndependentColumns {
  /** Columns that each add something to those before them. */
  readonly kept: readonly Column[];
  /** The others, each with the kept columns it is made up of. */
  readonly aliased: readonly Alias[];
}

export interface Alias {
  readonly column: Column;
  readonly of: readonly { readonly column: Column; readonly factor: number }[];
}

/** Parts of an alias below this come from rounding. */
const noise = 1e-9;

/** Sorts out the columns that repeat what those before them say, by the rank of each set (singular values). */
export function independentColumns(columns: readonly Column[]): IndependentColumns {
  const kept: Column[] = [];
  const aliased: Alias[] = [];
  for (const column of columns) {
    if (rankOf([...kept, column]) > kept.length) kept.push(column);
    else aliased.push({ column, of: partsOf(column, kept) });
  }
  return { kept, aliased };
}

function partsOf(column: Column, kept: readonly Column[]): Alias['of'] {
  if (kept.length === 0) return [];
  const factors = leastSquares(kept, column.values).coefficients;
  return kept
    .map((part, at) => ({ column: part, factor: factors[at] ?? 0 }))
    .filter(({ factor }) => Math.abs(factor) > noise);
}

/** Number of independent columns: singular values above rounding, of columns scaled to length one. */
function rankOf(columns: readonly Column[]): number {
  const scaled = columns.map(({ name, values }) => {
    const length = Math.hypot(...values);
    return { name, values: length === 0 ? values : values.map((value) => value / length) };
  });
  const matrix = matrixOf(scaled, scaled[0]?.values.length ?? 0);
  const { diagonal } = new SingularValueDecomposition(matrix, { autoTranspose: true });
  const least = (diagonal[0] ?? 0) * Math.max(matrix.rows, matrix.columns) * 1e-14;
  return diagonal.filter((value) => value > least).length;
}

function matrixOf(columns: readonly Column[], rows: number): Matrix {
  const odd = columns.find(({ values }) => values.length !== rows);
  if (odd !== undefined) {
    throw new Error(
      `internal error: column ${odd.name} has ${odd.values.length} rows, not ${rows}`,
    );
  }
  const values = Array.from({ length: rows }, (_, row) =>
    columns.map((column) => column.values[row] ?? Number.NaN),
  );
  return new Matrix(values);
}
