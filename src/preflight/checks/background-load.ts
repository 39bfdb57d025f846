import type { Finding } from '../../model/finding.ts';
import type { BackgroundLoad } from '../../model/rig-condition.ts';
import { type MovingContext, rigFinding } from '../check.ts';
import { isMuchLoad, isMuchStolen } from '../load-limits.ts';

/** Nobody else works the processor: neither programs of this system nor other guests of its host. */
export function checkBackgroundLoad({ condition }: MovingContext): readonly Finding[] {
  const load = condition.background;
  if (load === null) return [];
  return [...othersFinding(load), ...stolenFinding(load)];
}

function othersFinding({ cpus, others, causes }: BackgroundLoad): readonly Finding[] {
  if (!isMuchLoad(others, cpus)) return [];
  const by = causes.map((cause) => `${cause.name} ${cause.cpus.toFixed(2)}`).join(', ');
  const message = `others use ${others.toFixed(2)} of ${cpus} CPUs${by === '' ? '' : ` (${by})`}`;
  const remedy = 'close these programs or wait until they are done; top shows them';
  return [rigFinding('background-load', 'warn', message, remedy)];
}

function stolenFinding({ cpus, stolen }: BackgroundLoad): readonly Finding[] {
  if (!isMuchStolen(stolen, cpus)) return [];
  const message = `a hypervisor takes ${stolen.toFixed(2)} of ${cpus} CPUs for other guests`;
  const remedy = 'measure on a machine of its own, or while the others are idle';
  return [rigFinding('background-load', 'warn', message, remedy)];
}
