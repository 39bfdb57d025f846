import { describe, expect, it } from 'vitest';
import type { FrontierRow, RigWorth, Worth } from '../../../../src/model/worth.ts';
import { drawSpec } from '../../../../src/report/charts/draw-spec.ts';
import { slide } from '../../../../src/report/charts/frame.ts';
import { priceChart } from '../../../../src/report/charts/price-chart.ts';
import { pricePoints } from '../../../../src/report/charts/price-points.ts';
import { sampleReport } from '../../../setup/sample-report.ts';

function rig(label: string, amount: string | null, index: number | null): RigWorth {
  const together = amount === null ? null : { amount, currency: 'EUR' };
  const total = { currencies: [], together, missing: [] };
  return {
    label,
    title: label,
    sittings: 2,
    wanted: 2,
    index:
      index === null
        ? null
        : index === 1
          ? { value: 1, low: null, high: null }
          : { value: index, low: index * 0.99, high: index * 1.01 },
    isVoid: false,
    builds: [{ kind: 'as-measured', replaced: [], value: total, toPay: total }],
    perMoney: { asMeasured: null, cheapest: null },
    gain: null,
    gainToPay: null,
    energy: null,
  };
}

function worthOf(rigs: readonly RigWorth[], states: readonly FrontierRow['state'][]): Worth {
  return {
    schema: 'steadyrig/worth/1',
    campaign: 'harbour-lane',
    title: 'Boards (invented)',
    question: 'Which?',
    invented: true,
    baseline: 'old',
    confidence: 0.95,
    rigs,
    frontier: rigs.map(({ label }, at) => ({
      by: 'as-measured',
      rig: label,
      state: states[at] ?? 'not-told',
      others: [],
    })),
    parts: [],
    rates: [],
    notes: [],
  };
}

const four = worthOf(
  [
    rig('old', '400.00', 1),
    rig('new', '500.00', 1.1),
    rig('odd', '510.00', 1.09),
    rig('low', '520.00', 0.9),
  ],
  ['unbeaten', 'unbeaten', 'open', 'beaten'],
);

describe('price against performance', () => {
  it('tells its states by shapes and words, joins those that no other beats, and draws each interval', async () => {
    const spec = priceChart(sampleReport({ coursePoints: 0 }), four, slide('light'));
    if (spec === null) throw new Error('no chart');
    const svg = await drawSpec(spec);
    for (const words of ['no other rig beats it', 'open whether another does', 'beaten'])
      expect(svg).toContain(`>${words}</text>`);
    expect(svg).not.toContain('cannot be told</text>');
    for (const text of ['400.00 EUR; 1, baseline', '500.00 EUR; 1.100 (1.089 … 1.111)'])
      expect(svg).toContain(`>${text}</text>`);
    const symbols = /mark-symbol role-mark"[^>]*><path[^>]* d="([^"]*)"/g;
    expect(new Set([...svg.matchAll(symbols)].map(([, path]) => path?.slice(0, 12))).size).toBe(3);
    expect(/drawn-intervals"[^>]*>(.*?)<\/g>/.exec(svg)?.[1]?.match(/<line/g)).toHaveLength(3);
    expect(svg).toContain('← lower is better');
    expect(svg).toContain('higher is better →');
    expect(svg).toContain('axes do not begin at zero');
  });

  it('leaves out a rig whose price is not whole, or that was not compared, and says so', async () => {
    const partly = rig('partly', '0.00', 1.2);
    const [build] = partly.builds;
    const missing = { ...build, value: { ...build.value, missing: ['case'] } };
    const worth = worthOf(
      [
        ...four.rigs,
        { ...partly, builds: [missing] },
        rig('bare', null, 1.1),
        rig('alone', '9.00', null),
      ],
      ['unbeaten', 'unbeaten'],
    );
    const found = pricePoints(worth);
    expect(found?.points.map((point) => point.rig)).toEqual(['new', 'old', 'odd', 'low']);
    expect(found?.unpriced).toEqual(['partly', 'bare']);
    expect(found?.uncompared).toEqual(['alone']);
    const spec = priceChart(sampleReport({ coursePoints: 0 }), worth, slide('light'));
    if (spec === null) throw new Error('no chart');
    const said = (await drawSpec(spec)).replace(/<[^>]*>/g, ' ').replace(/ +/g, ' ');
    expect(said).toContain('without a full price: partly, bare; not compared: alone');
  });

  it('is not drawn of a single rig', () => {
    expect(pricePoints(worthOf([rig('old', '400.00', 1)], ['unbeaten']))).toBeNull();
  });
});
