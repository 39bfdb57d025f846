import { readingRule } from './reading-rules.ts';
import { topicsOf } from './topics.ts';

/** True when a difference follows from one of the factors whose levels differ; a factor may also be the path itself. */
export function isDeclared(path: string, factors: readonly string[]): boolean {
  const follows = readingRule(path)?.follows ?? [];
  return factors.some(
    (factor) =>
      path === `levels.${factor}` ||
      path === factor ||
      topicsOf(factor).some((topic) => follows.includes(topic)),
  );
}
