import { type PartId, partIds } from './parts.ts';
import { type ReadingRule, readingRule, type Telling } from './reading-rules.ts';

const order: readonly Telling[] = ['what', 'how', 'detail'];
const unruled: ReadingRule = { part: 'measuring', telling: 'detail', follows: [] };

/** What differs in one part, most telling first. */
export interface PartDifferences<T> {
  readonly part: PartId;
  readonly differences: readonly T[];
}

/**
 * Differences by part: first the parts with the most telling one, in the order of parts; in each the most telling first, else in the
 * order given.
 */
export function byTelling<T extends { readonly path: string }>(
  differences: readonly T[],
): readonly PartDifferences<T>[] {
  const ruled = differences.map((one) => ({ one, rule: readingRule(one.path) ?? unruled }));
  const place = (rule: ReadingRule): number => order.indexOf(rule.telling);
  const found = partIds.flatMap((part) => {
    const own = ruled
      .filter(({ rule }) => rule.part === part)
      .toSorted((a, b) => place(a.rule) - place(b.rule));
    const [first] = own;
    return first === undefined ? [] : [{ part, own, best: place(first.rule) }];
  });
  return found
    .toSorted((a, b) => a.best - b.best)
    .map(({ part, own }) => ({ part, differences: own.map(({ one }) => one) }));
}
