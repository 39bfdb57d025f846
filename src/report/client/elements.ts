/** The page's own data and what all of its script shares. Classic scripts: these files are joined in the order of `read-page-assets.ts`. */

interface PageData {
  readonly rigs: readonly string[];
  readonly sittings: readonly string[];
  readonly reach: number;
  readonly baselines: readonly {
    readonly rig: number;
    readonly rows: Readonly<Record<string, RatioEntry>>;
    readonly index: Readonly<Record<string, RatioEntry>>;
  }[];
  readonly metrics: readonly MetricData[];
}
type RatioEntry = readonly [
  ratio: number | null,
  low: number | null,
  high: number | null,
  ratioText: string,
  intervalText: string,
  verdict: string | null,
];
interface MetricData {
  readonly name: string;
  readonly workload: string;
  readonly metric: string;
  readonly unit: string;
  readonly factor: number;
  readonly symbol: string;
  readonly better: string;
  readonly runs: Readonly<Record<string, readonly RunGroup[]>>;
  readonly odd: readonly OddRun[];
}
type RunGroup = readonly [sitting: number, ...values: (number | null)[]];
type OddRun = readonly [
  rig: number,
  sitting: number,
  repeat: number,
  excluded: string | null,
  marks: string,
];

const data: PageData = JSON.parse(document.getElementById('data')?.textContent ?? '{}');

function all<T extends Element>(selector: string, within: ParentNode = document): T[] {
  return [...within.querySelectorAll<T>(selector)];
}

/** An element with texts and elements in it; texts are never taken for markup. */
function make<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Readonly<Record<string, string>> = {},
  ...content: readonly (Node | string)[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...content);
  return element;
}

function choice(
  label: string,
  options: readonly (readonly [string, string])[],
  change: (value: string) => void,
): HTMLLabelElement {
  const select = make(
    'select',
    {},
    ...options.map(([value, text]) => make('option', { value }, text)),
  );
  select.addEventListener('change', () => change(select.value));
  return make('label', {}, label, select);
}

function button(text: string, press: () => void): HTMLButtonElement {
  const made = make('button', { type: 'button' }, text);
  made.addEventListener('click', press);
  return made;
}

/** Said to whoever cannot see what changed. */
function announce(text: string): void {
  const shown = document.getElementById('shown');
  if (shown !== null) shown.textContent = text;
}

function saveFile(name: string, type: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = make('a', { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** A file name of any text. */
function fileName(text: string, ending: string): string {
  return `${
    text
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, 80) || 'chart'
  }${ending}`;
}
