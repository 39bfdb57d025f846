import type { FileWords } from '../suite/file-words.ts';

const textKeys = new Set(['title', 'question', 'suite', 'name', 'role', 'prompt', 'source']);
/** Amounts keep the digits that were typed; a number would lose those at the end, as in 89.90. */
const exactKeys = new Set(['amount', 'rate', 'date']);
/** Lists and maps whose values are text, such as a level `16`. */
const textLists = new Set(['levels', 'expect']);

/** How a campaign file is read. */
export const campaignWords: FileWords = {
  noun: 'campaign',
  isText: ({ key, above }) =>
    (key !== null && (textKeys.has(key) || exactKeys.has(key))) ||
    (above !== null && textLists.has(above)),
  misplaced: new Map(),
};
