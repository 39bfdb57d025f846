import type { Sitting } from '../../model/sitting.ts';
import type { StoryFacts } from './story-facts.ts';

/** More than these are not named one by one. */
const mostNamed = 6;

/** What was left to chance or is not known, each as a part of a sentence; never empty. */
export function uncontrolled({ sittings, comparison }: StoryFacts): readonly string[] {
  const counted = (text: string, test: (sitting: Sitting) => boolean): readonly string[] => {
    const count = sittings.filter(({ sitting }) => test(sitting)).length;
    return count === 0 ? [] : [text.replace('#', `${count} of ${sittings.length} sittings`)];
  };
  const { differences, changes, flags } = comparison;
  const undeclared = differences.filter(({ declared }) => !declared).map(({ path }) => path);
  return [
    ...counted(
      'the temperature of the room (not recorded in #)',
      ({ conditions }) => conditions.ambientCelsius === null,
    ),
    ...counted(
      'temperatures and clocks during # (no sensors recorded)',
      ({ telemetry }) => telemetry === null,
    ),
    ...counted(
      'how often rigs were rebuilt (not stated in #)',
      ({ assembly }) => assembly === null,
    ),
    ...named('what differs undeclared', undeclared),
    ...named(
      'what changed within a rig',
      changes.map(({ path }) => path),
    ),
    ...named('what the checks before measuring warned of', warnings(sittings)),
    ...(flags.includes('baseline-not-repeated')
      ? ['drift of room and software (the baseline was not measured again after every rig)']
      : []),
    ...unsealed(sittings),
    'what software cannot see: cooler seating, paste, power supply, cables, the single specimen of each part',
  ];
}

function warnings(sittings: StoryFacts['sittings']): readonly string[] {
  return sittings.flatMap(({ sitting }) =>
    sitting.findings.filter(({ severity }) => severity !== 'note').map(({ check }) => check),
  );
}

function named(what: string, names: readonly string[]): readonly string[] {
  const each = [...new Set(names)];
  const more = each.length > mostNamed ? ` and ${each.length - mostNamed} more` : '';
  return each.length === 0 ? [] : [`${what} (${each.slice(0, mostNamed).join(', ')}${more})`];
}

function unsealed(sittings: StoryFacts['sittings']): readonly string[] {
  const count = sittings.filter(({ isSealChecked }) => !isSealChecked).length;
  return count === 0
    ? []
    : [
        `whether the records changed since (${count} of ${sittings.length} sittings not compared with a seal)`,
      ];
}
