import type { Report } from '../../model/report.ts';
import { plainText } from '../comparison/plain-text.ts';

/** What a picture that travels alone says of its origin. */
export function footOf({ suite, sources, tool }: Report): string {
  return plainText(
    `Suite ${suite.id} revision ${suite.revision}; ${sources.length} sittings; steadyrig ${tool}`,
  );
}
