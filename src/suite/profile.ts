import { err, ok, type Result } from '../lib/result.ts';
import { suggest } from '../lib/suggest.ts';
import { type Amounts, amountsOf, measureAmount } from './amounts.ts';
import type { Fault } from './describe-issue.ts';
import type { WrittenEnvelope } from './written.ts';

/** The settings of the suite with those of a profile in their place; null stands for the suite as written. */
export function applyProfile(suite: WrittenEnvelope, name: string | null): WrittenEnvelope {
  const profile = name === null ? undefined : suite.profiles[name];
  if (profile === undefined) return suite;
  return {
    ...suite,
    title: profile.title ?? suite.title,
    amounts: { ...suite.amounts, ...profile.amounts },
    repeats: profile.repeats ?? suite.repeats,
    'warm-ups': profile['warm-ups'] ?? suite['warm-ups'],
    order: profile.order ?? suite.order,
    cooldown: profile.cooldown ?? suite.cooldown,
    limits: {
      time: profile.limits?.time ?? suite.limits.time,
      output: profile.limits?.output ?? suite.limits.output,
    },
  };
}

/** The error is a clause that names the profiles there are. */
export function findProfile(
  { profiles }: WrittenEnvelope,
  name: string | null,
): Result<string | null, string> {
  if (name === null || Object.hasOwn(profiles, name)) return ok(name);
  const known = Object.keys(profiles);
  const found = `has no profile \`${name}\``;
  if (known.length === 0) return err(`${found}, nor any other: leave \`--profile\` out`);
  const near = suggest(name, known);
  if (near !== null) return err(`${found}; did you mean \`${near}\`?`);
  return err(`${found}; expected one of ${known.map((each) => `\`${each}\``).join(', ')}`);
}

/** A profile changes how much of what the suite has, never what kind of work that is. */
export function checkProfiles({ amounts, profiles }: WrittenEnvelope): readonly Fault[] {
  const known = amountsOf(amounts);
  return Object.entries(profiles).flatMap(([profile, { amounts: changed = {} }]) =>
    Object.entries(changed).flatMap(([name, written]): Fault[] => {
      const message = changeFault(name, written, known);
      const path = ['profiles', profile, 'amounts', name];
      return message === null ? [] : [{ path, at: 'value', message }];
    }),
  );
}

function changeFault(name: string, written: number | string, known: Amounts): string | null {
  const original = known.get(name);
  if (original === undefined || original === null) {
    const near = suggest(name, [...known.keys()]);
    const hint = near === null ? 'expected a name given there' : `did you mean \`${near}\`?`;
    return `amount \`${name}\` is none of the suite's \`amounts\`; ${hint}`;
  }
  const [was, is] = [measureAmount(original).unit, measureAmount(written).unit];
  if (was === is) return null;
  return `amount \`${name}\` is \`${written}\` here and \`${original}\` in the suite; expected the same unit or another of its kind`;
}
