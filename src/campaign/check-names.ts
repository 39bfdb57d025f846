import { suggest } from '../lib/suggest.ts';
import type { Fault } from '../suite/describe-issue.ts';
import type { Path } from '../suite/place.ts';
import { checkPath, parseExpectation } from './expectation.ts';
import type { WrittenCampaign, WrittenPart, WrittenQuestion, WrittenRig } from './written.ts';

/** What is wrong between the parts of a campaign: names that nothing has, things given twice, values that cannot be. */
export function checkNames(written: WrittenCampaign): readonly Fault[] {
  return [
    ...unknown(['baseline'], written.baseline, 'rig', Object.keys(written.rigs)),
    ...checkAssemblies(written),
    ...checkFactors(written),
    ...Object.entries(written.parts).flatMap(([id, part]) => checkPart(id, part, written)),
    ...Object.entries(written.rigs).flatMap(([label, rig]) => checkRig(label, rig, written)),
    ...checkQuestions(written),
    ...checkRates(written),
  ];
}

function checkAssemblies({ sittings, assemblies }: WrittenCampaign): readonly Fault[] {
  if (assemblies <= sittings) return [];
  const message = `\`assemblies\` is \`${assemblies}\`, but a rig has only ${sittings} sitting${sittings === 1 ? '' : 's'}; expected ${sittings} or fewer`;
  return [fault(['assemblies'], message)];
}

function checkFactors({ factors }: WrittenCampaign): readonly Fault[] {
  return Object.entries(factors).flatMap(([id, { levels }]) =>
    twice(levels, ['factors', id, 'levels'], (level) => `level \`${level}\``),
  );
}

function checkPart(id: string, part: WrittenPart, { parts }: WrittenCampaign): readonly Fault[] {
  const path = ['parts', id, 'alternatives'];
  const { alternatives, affects, role } = part;
  if (alternatives.length > 0 && affects === 'performance') {
    const message = `\`alternatives\` of a part that affects performance; expected \`affects: nothing\`, or none: a rig with another such part is another rig, to be measured`;
    return [fault(path, message, 'key')];
  }
  const ofEach = alternatives.flatMap((other, index): readonly Fault[] => {
    const at = [...path, index];
    const unknownPart = unknown(at, other, 'part', Object.keys(parts));
    if (unknownPart.length > 0) return unknownPart;
    const why = whyNoAlternative(other, id, parts[other], role);
    return why === null ? [] : [fault(at, why)];
  });
  return [...ofEach, ...twice(alternatives, path, (other) => `part \`${other}\``)];
}

function whyNoAlternative(
  other: string,
  id: string,
  part: WrittenPart | undefined,
  role: string,
): string | null {
  if (other === id) return `part \`${other}\` is an alternative to itself; remove it`;
  if (part?.affects === 'performance')
    return `part \`${other}\` affects performance, so it stands for nothing on paper; expected a part with \`affects: nothing\``;
  if (part?.role === role) return null;
  return `part \`${other}\` has the role \`${part?.role}\`; expected another \`${role}\``;
}

function checkRig(
  label: string,
  rig: WrittenRig,
  { factors, parts }: WrittenCampaign,
): readonly Fault[] {
  const path = ['rigs', label];
  const known = Object.keys(factors);
  const missing = known.filter((factor) => !Object.hasOwn(rig.levels, factor));
  const names = missing.map((factor) => `\`${factor}\``).join(', ');
  const levels = Object.entries(rig.levels).flatMap(([factor, level]) => {
    const at = [...path, 'levels', factor];
    const found = own(factors, factor);
    if (found === undefined) return unknown(at, factor, 'factor', known, 'key');
    return unknown(at, level, `level of \`${factor}\``, found.levels);
  });
  return [
    ...(missing.length === 0
      ? []
      : [fault([...path, 'levels'], `rig \`${label}\` has no level of ${names}; give one`, 'key')]),
    ...levels,
    ...rig.parts.flatMap((part, index) =>
      unknown([...path, 'parts', index], part, 'part', Object.keys(parts)),
    ),
    ...Object.entries(rig.expect).flatMap(([reading, text]) =>
      checkExpectation([...path, 'expect', reading], reading, text),
    ),
  ];
}

function checkExpectation(at: Path, reading: string, text: string): readonly Fault[] {
  const wrongPath = checkPath(reading);
  if (wrongPath !== null) return [fault(at, wrongPath, 'key')];
  const parsed = parseExpectation(reading, text);
  return parsed.ok ? [] : [fault(at, `\`${reading}\`: ${parsed.error}`)];
}

function checkQuestions({ questions = [], ...written }: WrittenCampaign): readonly Fault[] {
  const factors = Object.keys(written.factors);
  const names = questions.flatMap((question, index) => {
    const path = ['questions', index];
    if ('rig' in question) {
      if (question.rig !== written.baseline)
        return unknown([...path, 'rig'], question.rig, 'rig', Object.keys(written.rigs));
      const message = `rig \`${question.rig}\` is the baseline itself; name another`;
      return [fault([...path, 'rig'], message)];
    }
    if ('effect' in question)
      return unknown([...path, 'effect'], question.effect, 'factor', factors);
    const at = [...path, 'interaction'];
    return [
      ...question.interaction.flatMap((factor, place) =>
        unknown([...at, place], factor, 'factor', factors),
      ),
      ...twice(question.interaction, at, (factor) => `factor \`${factor}\``),
    ];
  });
  return [...names, ...twice(questions.map(keyOf), ['questions'], () => 'the question')];
}

function keyOf(question: WrittenQuestion): string {
  return 'interaction' in question
    ? `interaction ${[...question.interaction].sort().join(' ')}`
    : JSON.stringify(question);
}

function checkRates({ money }: WrittenCampaign): readonly Fault[] {
  const same = money.rates.flatMap(({ from, to }, index) => {
    const message = `a rate from \`${from}\` to itself; expected two currencies`;
    return from === to ? [fault(['money', 'rates', index, 'to'], message)] : [];
  });
  const pairs = money.rates.map(({ from, to }) => [from, to].sort().join(' and '));
  return [...same, ...twice(pairs, ['money', 'rates'], (pair) => `a rate between ${pair}`)];
}

/** A fault for each item that was there before. */
function twice(
  items: readonly string[],
  path: Path,
  what: (item: string) => string,
): readonly Fault[] {
  return items.flatMap((item, index) =>
    items.indexOf(item) === index
      ? []
      : [fault([...path, index], `${what(item)} is given twice; keep one`)],
  );
}

function unknown(
  path: Path,
  name: string,
  what: string,
  known: readonly string[],
  at: Fault['at'] = 'value',
): readonly Fault[] {
  if (known.includes(name)) return [];
  const near = nearest(name, known);
  const listed = known.slice(0, 20).map((one) => `\`${one}\``);
  const expected = known.length === 0 ? 'there is none' : `expected one of ${listed.join(', ')}`;
  const hint = near === null ? expected : `did you mean \`${near}\`?`;
  return [fault(path, `\`${name}\` is no ${what} of this campaign; ${hint}`, at)];
}

/** Levels may have capitals, which `suggest` does not look at. */
function nearest(name: string, known: readonly string[]): string | null {
  const near = suggest(
    name,
    known.map((one) => one.toLowerCase()),
  );
  return known.find((one) => one.toLowerCase() === near) ?? null;
}

function fault(path: Path, message: string, at: Fault['at'] = 'value'): Fault {
  return { path, at, message };
}

function own<T>(map: Readonly<Record<string, T>>, key: string): T | undefined {
  return Object.hasOwn(map, key) ? map[key] : undefined;
}
