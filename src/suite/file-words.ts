/** What differs between the kinds of files that share one reader of YAML. */
export interface FileWords {
  /** What such a file is called in messages, as in "the suite". */
  readonly noun: string;
  /** Whether the value there is text even where YAML reads a number, a switch or nothing: what was typed counts. */
  isText(around: Around): boolean;
  /** Words that are right elsewhere, with where that is. */
  readonly misplaced: ReadonlyMap<string, string>;
}

/** The key of a value, and those of the maps it stands in, nearest first. */
export interface Around {
  readonly key: string | null;
  readonly above: string | null;
  readonly over: string | null;
}

const textKeys = new Set([
  'title',
  'description',
  'sha256',
  'pattern',
  'pointer',
  'unit',
  'path',
  'archive',
  'file',
  'stdin',
  'stdout',
  'instruction',
  'column',
  'debian',
  'elsewhere',
]);
const textLists = new Set(['argv', 'environment']);

export const suiteWords: FileWords = {
  noun: 'suite',
  isText: ({ key, above, over }) =>
    // A version such as 5.10 would lose its last digit as a number.
    (key === 'at-least' && over === 'programs') ||
    (key !== null && textKeys.has(key)) ||
    (above !== null && textLists.has(above)),
  misplaced: new Map([
    ['operator', 'a figure that a person types in, which only `kind: by-hand` has'],
  ]),
};
