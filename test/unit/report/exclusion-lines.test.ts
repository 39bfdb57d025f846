import { describe, expect, it } from 'vitest';
import { summarizeStored } from '../../../src/api/summarize-stored.ts';
import { renderExcluded, renderExclusions } from '../../../src/report/exclusion-lines.ts';
import { sampleExclusion, sampleRun } from '../../setup/samples.ts';
import { sampleStored } from '../../setup/stored-sitting.ts';

const runs = [2, 2.25, 9].map((value, at) =>
  sampleRun({
    plan: at,
    round: at + 1,
    metrics: [{ id: 'wall', value, unit: 's', better: 'lower' }],
  }),
);

function linesFor(plans: readonly number[]): readonly string[] {
  const lines = plans.map((plan) => sampleExclusion({ plan }));
  const { summary, exclusions, summaryWithoutExcluded } = summarizeStored(
    sampleStored({ runs }),
    lines,
  );
  return renderExclusions(runs, exclusions, summary, summaryWithoutExcluded ?? summary);
}

describe('renderExclusions', () => {
  it('names each excluded run with its reason, and gives the figures without and with', () => {
    expect(linesFor([2]).join('\n')).toBe(`\
EXCLUDED pack, repeat 3: somebody opened the side panel (2026-01-31)

without excluded runs      n    mean  95 % interval   median     CV
─────────────────────────  ─  ──────  ──────────────  ──────  ─────
pack
  wall s ↓                 2  2.125   0.5367 … 3.713   2.125  8.3 %
  with them                3  4.417   -5.448 … 14.28   2.250   90 %`);
  });

  it('has no figures left where all runs are excluded, and nothing to say where none is', () => {
    const text = linesFor([0, 1, 2]).join('\n');
    expect(text.match(/EXCLUDED/g)).toHaveLength(3);
    expect(text).toMatch(/wall s ↓ +0 +–$/m);
    expect(linesFor([])).toEqual([]);
  });

  it('stays within 80 columns whatever the reason', () => {
    const exclusion = sampleExclusion({ reason: 'the fan was blocked '.repeat(20).trim() });
    const text = renderExcluded(sampleRun(), exclusion);
    for (const line of text.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
  });
});
