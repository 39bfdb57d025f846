import type { Basis } from '../../model/comparison.ts';
import type { Sitting } from '../../model/sitting.ts';
import type { Cooldown, Suite } from '../../model/suite.ts';
import { formatDuration } from '../quantity.ts';
import type { StoryFacts } from './story-facts.ts';
import { uncontrolled } from './uncontrolled.ts';

/** How it was measured and judged, as paragraphs that can be pasted; from the facts alone, what was not controlled included. */
export function describeMethod(facts: StoryFacts): readonly string[] {
  return [
    whatWasRun(facts),
    howOften(facts),
    conditions(facts),
    metering(facts),
    statistics(facts),
    notControlled(facts),
  ].filter((paragraph) => paragraph !== '');
}

function whatWasRun({ suite, sittings }: StoryFacts): string {
  const names = suite.workloads.map(({ id, title }) => (title === id ? id : `${title} (${id})`));
  const programs = new Map<string, Set<string>>();
  for (const { sitting } of sittings)
    for (const { name, version, sha256 } of sitting.programs)
      programs.set(
        name,
        (programs.get(name) ?? new Set()).add(version ?? `build ${sha256.slice(0, 12)}`),
      );
  const versions = [...programs].map(([name, found]) => `${name} ${[...found].join(' and ')}`);
  const started = versions.length === 0 ? '' : ` Programs: ${versions.join('; ')}.`;
  const profile = suite.profile === null ? '' : `, profile ${suite.profile}`;
  const digests = new Set(sittings.map(({ sitting }) => sitting.suite.resolved.digest));
  const others = [...digests].filter((digest) => digest !== suite.digest);
  const mixed =
    others.length === 0
      ? ''
      : ` Sittings of other revisions or forms of it are among them (digest ${others.map((digest) => digest.slice(0, 12)).join(', ')}).`;
  return `Suite ${suite.id}, revision ${suite.revision}${profile} (digest ${suite.digest.slice(0, 12)}): ${names.join(', ')}.${mixed}${started}`;
}

function howOften({ suite, rigs, sittings }: StoryFacts): string {
  const counts = rigs.map(({ label, sittings: own }) => `${label} ${own.length}`);
  const rigsInOrder = sequence(sittings.map(({ rig }) => rig));
  const visits = `Sittings: ${counts.join(', ')}; in the order of time ${rigsInOrder}.`;
  const measured = sittings.filter(({ sitting }) => sitting.imported === null);
  if (measured.length === 0) return `${visits} How they were measured the figures do not say.`;
  const odd = [
    ...countText(measured, 'ended before all of their runs', ({ state }) => state === 'cut-short'),
    ...countText(
      measured,
      'were interrupted and continued',
      ({ continuations }) => continuations.length > 0,
    ),
  ];
  const ends = odd.length === 0 ? '' : ` ${odd.join('; ')}.`;
  const who =
    measured.length === sittings.length ? 'A sitting' : 'A sitting that was measured here';
  return `${visits} ${who} had ${runsText(suite, measured)}. ${cooldownText(suite.cooldown)}${ends}`;
}

/** `2 of 6 sittings were interrupted and continued`; nothing for none. */
function countText(
  sittings: StoryFacts['sittings'],
  what: string,
  test: (sitting: Sitting) => boolean,
): readonly string[] {
  const count = sittings.filter(({ sitting }) => test(sitting)).length;
  return count === 0 ? [] : [`${count} of ${sittings.length} sittings ${what}`];
}

/** `5 repeats of each workload, after one warm-up that is not counted, in the order of the suite`. */
function runsText(suite: Suite, sittings: StoryFacts['sittings']): string {
  const repeats =
    suite.repeats.kind === 'fixed'
      ? `${suite.repeats.count} repeats of each workload`
      : `${suite.repeats.atLeast} to ${suite.repeats.atMost} repeats of each workload, until the half width of the 95 % interval was below ${percent(suite.repeats.untilHalfWidthBelow)} of the mean`;
  const warmUps =
    suite.warmUps === 0
      ? 'without a warm-up'
      : `after ${suite.warmUps === 1 ? 'one warm-up that is' : `${suite.warmUps} warm-ups that are`} not counted`;
  const seeds = [...new Set(sittings.map(({ sitting }) => sitting.plan.seed))];
  const drawn = `in an order shuffled anew in each round (${seeds.length === 1 ? 'seed' : 'seeds'} ${seeds.slice(0, 6).join(', ')}${seeds.length > 6 ? ', …' : ''})`;
  const order = suite.order === 'shuffled' ? drawn : 'in the order of the suite';
  return `${repeats}, ${warmUps}, ${order}`;
}

/** `first-8 (2), second-8, first-8`. */
function sequence(labels: readonly string[]): string {
  const parts: { label: string; count: number }[] = [];
  for (const label of labels) {
    const last = parts.at(-1);
    if (last?.label === label) last.count += 1;
    else parts.push({ label, count: 1 });
  }
  const shown = parts.slice(0, 24);
  const texts = shown.map(({ label, count }) => (count === 1 ? label : `${label} (${count})`));
  return texts.join(', ') + (parts.length > shown.length ? ', …' : '');
}

function cooldownText(cooldown: Cooldown): string {
  if (cooldown.kind === 'fixed')
    return cooldown.seconds === 0
      ? 'There was no cooldown between runs.'
      : `Cooldown before each run: ${formatDuration(cooldown.seconds)}.`;
  const range = `${formatDuration(cooldown.atLeastSeconds)} to ${formatDuration(cooldown.atMostSeconds)}`;
  if (cooldown.kind === 'load')
    return `Cooldown before each run: ${range}, until the processors were busy for less than ${percent(cooldown.below)} of the time.`;
  const { until } = cooldown;
  const goal =
    until.kind === 'below'
      ? `the processor was below ${until.celsius} °C`
      : `the processor was within ${until.withinKelvin} K of its temperature at rest`;
  return `Cooldown before each run: ${range}, until ${goal}; ${formatDuration(cooldown.withoutSensorSeconds)} where no sensor tells.`;
}

function conditions({ sittings }: StoryFacts): string {
  const rooms = sittings.flatMap(({ sitting }) => sitting.conditions.ambientCelsius ?? []);
  const room =
    rooms.length === 0
      ? ''
      : `Room: ${span(rooms)} °C${rooms.length < sittings.length ? ` (recorded in ${rooms.length} of ${sittings.length} sittings)` : ''}.`;
  const assemblies = new Set(
    sittings.flatMap(({ rig, sitting }) =>
      sitting.assembly === null ? [] : [`${rig} ${sitting.assembly}`],
    ),
  );
  const built =
    assemblies.size === 0 ? '' : `The sittings are spread over ${assemblies.size} assemblies.`;
  const boots = new Set(sittings.flatMap(({ sitting }) => sitting.bootIds));
  const booted = boots.size === 0 ? '' : `Boots: ${boots.size}.`;
  return [room, built, booted].filter((text) => text !== '').join(' ');
}

function span(values: readonly number[]): string {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return low === high ? String(low) : `${low} to ${high}`;
}

function metering({ sittings }: StoryFacts): string {
  const own = sittings.filter(({ sitting }) => sitting.imported === null);
  const tools = [...new Set(own.map(({ sitting }) => sitting.tool.version))];
  const meters = new Set(sittings.flatMap(({ sitting }) => sitting.meter?.name ?? []));
  const texts = tools.length === 0 ? [] : [`Measured with steadyrig ${tools.join(' and ')}.`];
  if (meters.has('kernel'))
    texts.push(
      'Times, CPU time and memory are those that the kernel accounts for the measured process and the children it waited for, on the monotonic clock.',
    );
  if (meters.has('portable'))
    texts.push('Where the kernel could not be asked, times are those of the agent’s own clock.');
  const files = new Set(sittings.flatMap(({ sitting: { imported } }) => fileText(imported) ?? []));
  if (files.size > 0) {
    const count = sittings.length - own.length;
    const which =
      own.length === 0
        ? 'All figures are imported'
        : `${count} of ${sittings.length} sittings are imported figures`;
    texts.push(`${which}, from ${[...files].join(', ')}.`);
  }
  return texts.join(' ');
}

/** `figures.csv (SHA-256 1234567890ab)`. */
function fileText(imported: Sitting['imported']): string | null {
  return imported === null ? null : `${imported.file} (SHA-256 ${imported.sha256.slice(0, 12)})`;
}

const basisTexts: Readonly<Record<Basis, string>> = {
  sittings:
    'the spread of repeated sittings, pooled over the rigs where these spread alike, else by Welch',
  'precision-study': 'a precision study of an unchanged rig (Satterthwaite’s degrees of freedom)',
  'repeats-only':
    'the repeats of single sittings alone, so that they speak of these sittings and not of the rigs',
};

function statistics({ comparison, suite }: StoryFacts): string {
  const { confidence, matters, rows } = comparison;
  const bases = [...new Set(rows.map(({ basis }) => basis))].map((basis) => basisTexts[basis]);
  const rest =
    bases.length === 0 ? '' : ` Intervals of ${percent(confidence)} rest on ${bases.join('; ')}.`;
  const over = rows.length < 2 ? '' : ` adjusted by Holm over all ${rows.length} figures`;
  const index = comparison.overall.some(({ workloads }) => workloads > 1)
    ? ' The index over all is the geometric mean of the ratios, one for each workload.'
    : '';
  const adaptive =
    suite.repeats.kind === 'adaptive'
      ? ' Repeats ended once the interval was narrow enough, so intervals run a little short of their level.'
      : '';
  const again =
    suite.retry.disturbed > 0
      ? 'runs beside which something else went on were tried again, and the last good attempt counts, whatever its figure; '
      : '';
  return `Figures are compared as ratios on the log scale, above 1 being better, with the sitting as the unit; times are averaged by the arithmetic mean, rates by the harmonic mean.${rest} A difference is called better or worse when the test${over} rejects equality, equivalent when two one-sided tests hold it within ${percent(matters)}, else undecided.${index} Failed runs have no figure; ${again}no other run was dropped but those that are named as excluded.${adaptive}`;
}

function notControlled(facts: StoryFacts): string {
  const { effects } = facts;
  const design =
    effects === null
      ? ''
      : ` Effects are fitted to sitting means with all interactions of up to ${effects.order} factors.`;
  return `Not controlled: ${uncontrolled(facts).join('; ')}.${design}`;
}

function percent(fraction: number): string {
  return `${Number((fraction * 100).toPrecision(3))} %`;
}
