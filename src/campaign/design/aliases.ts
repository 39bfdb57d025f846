import { termName } from '../../stats/factor-columns.ts';
import { independentColumns, leastSquares } from '../../stats/least-squares.ts';
import { columnsOf, type Geometry, isSameTerm, meanColumn, type Term } from './geometry.ts';

/** The terms of which `term`, which is not separable from them, is made up in these rigs. */
export function madeUpOf(term: Term, others: readonly Term[], geometry: Geometry): readonly Term[] {
  const rest = others.filter((other) => !isSameTerm(other, term));
  const { aliased } = independentColumns([
    meanColumn(geometry),
    ...columnsOf(rest, geometry),
    ...columnsOf([term], geometry),
  ]);
  const own = termName(term);
  const names = new Set(
    aliased
      .filter(({ column }) => nameOf(column.name) === own)
      .flatMap(({ of }) => of.map(({ column }) => nameOf(column.name))),
  );
  return rest.filter((other) => names.has(termName(other)));
}

/**
 * The terms among `ignored` that would move the estimate of `term` when only `fitted` are in the model: those with an entry in its
 * row of the alias matrix (X'X)⁻¹X'Z (Box & Wilson 1951; NIST/SEMATECH e-Handbook 5.3.3.4.3 names the result the alias
 * structure). `term` is separable from `fitted`.
 */
export function movedBy(
  term: Term,
  fitted: readonly Term[],
  ignored: readonly Term[],
  geometry: Geometry,
): readonly Term[] {
  const own = columnsOf([term], geometry);
  const rest = columnsOf(
    fitted.filter((other) => !isSameTerm(other, term)),
    geometry,
  );
  const { kept } = independentColumns([meanColumn(geometry), ...own, ...rest]);
  return ignored
    .filter((other) => !isSameTerm(other, term))
    .filter((other) =>
      columnsOf([other], geometry).some(({ values }) =>
        leastSquares(kept, values)
          .coefficients.slice(1, 1 + own.length)
          .some((coefficient) => Math.abs(coefficient) > noise),
      ),
    );
}

/** Parts of an alias below this come from rounding. */
const noise = 1e-9;

function nameOf(column: string): string {
  return column.replace(/#\d+$/, '');
}
