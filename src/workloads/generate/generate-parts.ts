import type { GeneratedContent } from '../../model/suite.ts';
import { corpusSegments } from '../corpus/corpus.ts';
import { cSourceParts } from './c-source.ts';
import { tableParts } from './table.ts';
import { videoParts } from './video.ts';

/**
 * Generated data in parts, equal for equal arguments on every machine. Text, binary and mixed data have exactly the
 * size asked; a table ends with the last row that fits; video has the nearest number of whole frames, C source the
 * least number of functions that reaches the size.
 */
export function generateParts({
  content,
  sizeBytes,
  seed,
}: {
  readonly content: GeneratedContent;
  readonly sizeBytes: number;
  readonly seed: number;
}): Iterable<Uint8Array> {
  switch (content) {
    case 'text':
    case 'binary':
    case 'mixed':
      return corpusSegments(content, sizeBytes, seed);
    case 'video':
      return videoParts(sizeBytes, seed);
    case 'c-source':
      return cSourceParts(sizeBytes, seed);
    case 'table':
      return tableParts(sizeBytes, seed);
  }
}
