import type { Fault } from './describe-issue.ts';
import type { Path } from './place.ts';
import { resolveCooldown } from './resolve-cooldown.ts';
import { resolveTemperatureLimit } from './resolve-temperature-limit.ts';
import type { WrittenCooldown, WrittenEnvelope } from './written.ts';

/** A cooldown that ends only at or above the limit would let every run start too hot. */
export function checkHeat(written: WrittenEnvelope): readonly Fault[] {
  const { celsius } = resolveTemperatureLimit(written['temperature-limit']);
  if (celsius === null) return [];
  const inProfiles = Object.entries(written.profiles).flatMap(([name, { cooldown }]) =>
    cooldown === undefined ? [] : [{ cooldown, path: ['profiles', name, 'cooldown'] }],
  );
  return [{ cooldown: written.cooldown, path: ['cooldown'] }, ...inProfiles].flatMap(
    ({ cooldown, path }) => faultOf(cooldown, path, celsius),
  );
}

function faultOf(written: WrittenCooldown, above: Path, limit: number): readonly Fault[] {
  const cooldown = resolveCooldown(written);
  if (cooldown.kind !== 'temperature' || cooldown.until.kind !== 'below') return [];
  if (cooldown.until.celsius < limit) return [];
  const path = [...above, 'until-temperature-below'];
  const message = `\`until-temperature-below\`: \`${cooldown.until.celsius} °C\` is not below the \`temperature-limit\`, which is \`${limit} °C\``;
  return [{ path, at: 'value', message }];
}
