import {
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  type Node,
  type Pair,
  type Scalar,
} from 'yaml';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import type { Around, FileWords } from './file-words.ts';
import type { Place, Report } from './place.ts';

/** Plain values (maps without prototype) and, in the same shape, their places. */
export interface Tree {
  readonly value: unknown;
  readonly place: Place;
}

interface Branch extends Tree {
  /** Values in it once every alias is written out. */
  readonly size: number;
}

const maxValues = 20_000;

/** Turns a composed document into values; see `parseYaml` for what is refused. All such problems are given. */
export function treeOf(
  document: Document.Parsed,
  report: Report,
  words: FileWords,
): Result<Tree, readonly Problem[]> {
  const walk = new Walk(report, words);
  const tree = walk.branch(document.contents, 0, root, null);
  if (walk.problems.length > 0) return err(walk.problems);
  return ok(tree);
}

const root: Around = { key: null, above: null, over: null };

class Walk {
  readonly problems: Problem[] = [];
  readonly #report: Report;
  readonly #words: FileWords;
  /** Null while the anchored value is still open: an alias to it then would be a cycle. */
  readonly #anchors = new Map<string, Branch | null>();
  #tooLarge = false;

  constructor(report: Report, words: FileWords) {
    this.#report = report;
    this.#words = words;
  }

  branch(node: Node | null, offset: number, around: Around, keyOffset: number | null): Branch {
    const start = node?.range?.[0] ?? offset;
    if (node === null) return leaf(null, start, keyOffset);
    if (isAlias(node)) return { ...this.#alias(node.source, start) };
    if (node.tag !== undefined)
      this.#refuse(
        start,
        `the tag \`${shorten(node.tag.replace(/^tag:yaml.org,2002:/, '!!'))}\`; tags are not used in ${this.#words.noun}s, remove it`,
      );
    const anchor = 'anchor' in node ? node.anchor : undefined;
    if (anchor !== undefined) this.#anchors.set(anchor, null);
    const branch = this.#content(node, start, around, keyOffset);
    if (anchor !== undefined) this.#anchors.set(anchor, branch);
    return branch;
  }

  #content(node: Node, start: number, around: Around, keyOffset: number | null): Branch {
    if (isMap(node))
      return this.#map(node.items as Pair<Node, Node | null>[], start, around, keyOffset);
    if (isSeq(node)) return this.#list(node.items as (Node | null)[], start, around, keyOffset);
    if (!isScalar(node)) throw new Error('internal error: unknown YAML node');
    const value = scalarValue(node, this.#words.isText(around));
    if (typeof value === 'string' && controls.test(value))
      this.#refuse(start, 'a control character written as an escape; expected printable text');
    return leaf(value, start, keyOffset);
  }

  #map(
    pairs: readonly Pair<Node, Node | null>[],
    start: number,
    around: Around,
    keyOffset: number | null,
  ): Branch {
    const value: Record<string, unknown> = Object.create(null);
    const children = new Map<string, Place>();
    let size = 1;
    for (const { key, value: item } of pairs) {
      const keyStart = key?.range?.[0] ?? start;
      const name = this.#keyName(key, keyStart);
      if (name === null) continue;
      if (children.has(name))
        this.#refuse(keyStart, `key \`${shorten(name)}\` is given twice; keep one`);
      const inside = { key: name, above: around.key, over: around.above };
      const child = this.branch(item, keyStart, inside, keyStart);
      value[name] = child.value;
      children.set(name, { ...child.place, keyOffset: keyStart });
      size += child.size;
    }
    return this.#limit({ value, place: { offset: start, keyOffset, children }, size });
  }

  #list(
    items: readonly (Node | null)[],
    start: number,
    around: Around,
    keyOffset: number | null,
  ): Branch {
    const value: unknown[] = [];
    const children = new Map<string, Place>();
    let size = 1;
    for (const item of items) {
      const child = this.branch(item, start, { ...root, above: around.key }, null);
      children.set(String(value.length), child.place);
      value.push(child.value);
      size += child.size;
    }
    return this.#limit({ value, place: { offset: start, keyOffset, children }, size });
  }

  #keyName(key: Node | null, start: number): string | null {
    const name = isScalar(key) ? sourceOf(key) : null;
    if (name === '<<')
      return this.#refuse(start, 'merge keys (`<<`) are not part of YAML 1.2; write the keys out');
    if (name === '__proto__')
      return this.#refuse(start, 'the key `__proto__`; choose another name');
    if (name === null || name === '') return this.#refuse(start, 'a key that is not plain text');
    if (controls.test(name)) return this.#refuse(start, 'a key with a control character');
    return name;
  }

  #alias(name: string, start: number): Branch {
    const target = this.#anchors.get(name);
    if (target !== undefined && target !== null) return this.#limit(target, start);
    const message =
      target === null
        ? `alias \`*${shorten(name)}\` stands inside the value that it repeats, without end`
        : `alias \`*${shorten(name)}\` has no anchor \`&${shorten(name)}\` above it`;
    this.#refuse(start, message);
    return leaf(null, start, null);
  }

  /** Aliases are shared, not copied, so only their count shows how large a small file has grown. */
  #limit(branch: Branch, start: number = branch.place.offset): Branch {
    if (branch.size > maxValues && !this.#tooLarge) {
      this.#tooLarge = true;
      const message = `more than ${maxValues} values once its aliases are written out`;
      this.problems.push(this.#report(start, message, 'yaml-limits'));
    }
    return branch;
  }

  #refuse(offset: number, message: string): null {
    this.problems.push(this.#report(offset, message, 'yaml-syntax'));
    return null;
  }
}

/** As in `forbidden` of read-yaml.ts, but of line ends only the plain one: escapes can write any character. */
const controls = /(?![\t\n])\p{Cc}|\p{Cs}|[\u2028\u2029\ufffe\uffff]/u;

function leaf(value: unknown, offset: number, keyOffset: number | null): Branch {
  return { value, place: { offset, keyOffset, children: new Map() }, size: 1 };
}

function scalarValue(node: Scalar, isText: boolean): unknown {
  if (!isText || typeof node.value === 'string') return node.value;
  const source = sourceOf(node);
  return source === '' ? null : source;
}

function sourceOf(node: Scalar): string {
  return typeof node.value === 'string' ? node.value : (node.source ?? '');
}

function shorten(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
