import { Composer, type Document, Lexer, Parser, type YAMLError } from 'yaml';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import { type FileWords, suiteWords } from './file-words.ts';
import { type Report, reporter } from './place.ts';
import { type Tree, treeOf } from './yaml-tree.ts';

export interface YamlFile extends Tree {
  readonly report: Report;
}

// A file is a handful of levels and some thousand words. Far beyond that the composer would overflow the stack
// (which ends the process when it happens inside a regular expression) or take minutes, so stop before it starts.
const maxDepth = 40;
const maxWords = 50_000;

/**
 * The one document of a YAML 1.2 file as plain values with their places. Refused: several documents, tags,
 * merge keys, keys that are not text, duplicate keys, cycles, control characters, and sizes that no file of ours needs.
 */
export function parseYaml(
  text: string,
  file: string,
  words: FileWords = suiteWords,
): Result<YamlFile, readonly Problem[]> {
  // A byte order mark is no part of the first line, so columns count from behind it.
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  const report = reporter(file, body);
  const strange = strangeCharacter(body);
  if (strange !== null) return err([report(strange.offset, strange.message, 'file-not-text')]);
  const documents = compose(body, report);
  if (!documents.ok) return err([documents.error]);
  const [document, second] = documents.value;
  if (second !== undefined) {
    const message = `a second document begins here; expected one ${words.noun} in the file: remove the \`---\``;
    return err([report(second.contents?.range?.[0] ?? second.range[0], message, 'yaml-syntax')]);
  }
  if (document === undefined) throw new Error('internal error: no YAML document');
  const faults = [...document.errors, ...document.warnings].filter(isOurs);
  if (faults.length > 0)
    return err(
      faults.map((fault) => report(fault.pos[0], wordingOf(fault, words.noun), 'yaml-syntax')),
    );
  if (document.directives?.yaml.explicit === true && document.directives.yaml.version !== '1.2') {
    const message = `the file says YAML ${document.directives.yaml.version}; expected 1.2: remove the \`%YAML\` line`;
    return err([report(0, message, 'yaml-syntax')]);
  }
  const tree = treeOf(document, report, words);
  return tree.ok ? ok({ ...tree.value, report }) : tree;
}

function compose(text: string, report: Report): Result<Document.Parsed[], Problem> {
  const parser = new Parser();
  const tokens = [];
  let words = 0;
  for (const lexeme of new Lexer().lex(text)) {
    for (const token of parser.next(lexeme)) tokens.push(token);
    // A wrong escape costs the composer as much as a word.
    words += lexeme.startsWith('"') ? lexeme.split('\\').length : 1;
    if (parser.stack.length > maxDepth)
      return err(report(parser.offset, `nested more than ${maxDepth} levels deep`, 'yaml-limits'));
    if (words > maxWords)
      return err(report(parser.offset, `more than ${maxWords} words and signs`, 'yaml-limits'));
  }
  for (const token of parser.end()) tokens.push(token);
  // Duplicate keys are looked for in yaml-tree.ts: here the time would grow with the square of their number.
  const composer = new Composer({ prettyErrors: false, uniqueKeys: false });
  return ok([...composer.compose(tokens, true, text.length)] as Document.Parsed[]);
}

/** Tags are refused in yaml-tree.ts whether they are known or not. */
function isOurs(fault: YAMLError): boolean {
  return fault.code !== 'TAG_RESOLVE_FAILED';
}

/** `NOUN` stands for what the file is. */
const wordings: Readonly<Partial<Record<YAMLError['code'], string>>> = {
  TAB_AS_INDENT: 'indented with a tab; expected spaces',
  BLOCK_AS_IMPLICIT_KEY:
    'a second `: ` in one value; put text with a colon in quotes, or mend the indentation',
  MULTILINE_IMPLICIT_KEY:
    'a key that goes over several lines; mend the indentation, or put text with a colon in quotes',
  BAD_INDENT: 'the indentation does not fit the lines above',
  BAD_ALIAS: 'an alias needs a name of an anchor given above, as in `*name`',
  MULTIPLE_ANCHORS: 'more than one anchor; expected at most one',
  MULTIPLE_TAGS: 'tags are not used in NOUNs; remove it',
  KEY_OVER_1024_CHARS: 'a key of more than 1024 characters',
  BAD_DIRECTIVE: 'lines that start with `%` are not used in NOUNs; remove it',
};

function wordingOf({ code, message }: YAMLError, noun: string): string {
  const open = /end with a ([\]}])$/.exec(message)?.[1];
  if (open !== undefined)
    return `expected \`${open}\` before this: a bracket is not closed, or a line within it is not indented`;
  const wording = wordings[code]?.replace('NOUN', noun);
  return wording ?? `not valid YAML: ${message.slice(0, 120).replace(/(quote|\.)$/, '')}`;
}

/** The first character that no YAML file may hold. */
function strangeCharacter(text: string): { offset: number; message: string } | null {
  const offset = text.search(forbidden);
  if (offset === -1) return null;
  const code = (text.codePointAt(offset) ?? 0).toString(16).toUpperCase().padStart(4, '0');
  const what = code.startsWith('D') ? 'half a character pair' : 'a control character';
  return { offset, message: `${what}, U+${code}; expected text in UTF-8` };
}

/** Control characters but tab and line ends, halves of surrogate pairs, and what is no character. */
const forbidden = /(?![\t\n\r\u0085])\p{Cc}|\p{Cs}|[\ufffe\uffff]/u;
