import { describe, expect, it } from 'vitest';
import { rigDeviations } from '../../../../src/api/campaign/rig-deviations.ts';
import { parseExpectation } from '../../../../src/campaign/expectation.ts';
import type { Inventory, Reading } from '../../../../src/model/inventory.ts';
import { sampleCampaignRig } from '../../../setup/sample-campaign.ts';
import { sampleInventory } from '../../../setup/samples.ts';
import { unwrap } from '../../../setup/unwrap.ts';

const named = (value: string): Reading => ({ value, unit: null, source: '/invented' });
const hidden: Reading = { value: null, absent: 'not-permitted', source: '/invented' };

function box(board: string, firmware: string | null, kernel: string): Inventory {
  const version = firmware === null ? hidden : named(firmware);
  return {
    ...sampleInventory,
    sections: {
      board: { readings: { name: named(board) }, items: {} },
      firmware: { readings: { version }, items: {} },
      os: { readings: { kernel: named(kernel) }, items: {} },
    },
  };
}

const rig = sampleCampaignRig('second-8', [], { levels: { board: 'second' } });
const earlier = (label: string, inventory: Inventory, level = 'first') => ({
  rig: label,
  levels: { board: level },
  inventory,
  swaps: [],
});

const told = (found: ReturnType<typeof rigDeviations>) =>
  found.map(({ path, kind, against }) => [path, kind, against]);

describe('how a rig stands to what was to be expected', () => {
  it('expects what follows from a factor whose level changed, and nothing else', () => {
    const was = box('Example Board One', '1.0', '6.1.0');
    const is = box('Example Board Two', '2.0', '6.1.7');
    const found = rigDeviations(rig, is, earlier('first-8', was));
    expect(told(found)).toEqual(
      expect.arrayContaining([
        ['board.name', 'expected', 'rig-before'],
        ['firmware.version', 'expected', 'rig-before'],
        ['os.kernel', 'unexpected', 'rig-before'],
      ]),
    );
    expect(found).toHaveLength(3);
  });

  it('expects no change at all from the sitting of the same rig before', () => {
    const was = box('Example Board Two', '2.0', '6.1.0');
    const is = box('Example Board Two', '2.1', '6.1.0');
    // Whatever levels that sitting was given: it carries this label.
    const found = rigDeviations(rig, is, earlier('second-8', was));
    expect(told(found)).toEqual([['firmware.version', 'unexpected', 'earlier-sitting']]);
    expect(rigDeviations(rig, was, earlier('second-8', was))).toEqual([]);
  });

  it('tells an expectation once, and leaves to the operator what could not be read', () => {
    const expecting = {
      ...rig,
      expect: [
        unwrap(parseExpectation('board.name', 'Example Board Two')),
        unwrap(parseExpectation('firmware.version', '2.0')),
      ],
    };
    const was = box('Example Board One', '1.0', '6.1.0');
    const is = box('Example Board Three', null, '6.1.0');
    expect(told(rigDeviations(expecting, is, earlier('first-8', was)))).toEqual([
      ['board.name', 'unexpected', 'expectation'],
      ['firmware.version', 'not-visible', 'expectation'],
    ]);
    // Without an expectation a reading that was not permitted is no change.
    const loose = rigDeviations(
      rig,
      is,
      earlier('second-8', box('Example Board Three', '1', '6.1.0')),
    );
    expect(loose).toEqual([]);
  });

  it('asks about a part that was to be swapped where no reading of its kind differs', () => {
    const same = box('Example Board One', '1.0', '6.1.0');
    const swapped = (label: string) => ({
      ...earlier(label, same),
      swaps: [{ role: 'board', out: 'Example Board One', in: 'Example Board Two' }],
    });
    const [silent, ...others] = rigDeviations(rig, same, swapped('first-8'));
    expect(others).toEqual([]);
    expect(silent).toEqual({
      path: 'board',
      from: 'Example Board One',
      to: 'Example Board Two',
      kind: 'not-visible',
      against: 'rig-before',
    });
    // Its firmware tells, or an expectation that was met.
    const other = box('Example Board One', '2.0', '6.1.0');
    expect(told(rigDeviations(rig, other, swapped('first-8')))).toEqual([
      ['firmware.version', 'expected', 'rig-before'],
    ]);
    const met = [unwrap(parseExpectation('board.name', 'Example Board One'))];
    expect(told(rigDeviations({ ...rig, expect: met }, same, swapped('first-8')))).toEqual([
      ['board.name', 'expected', 'expectation'],
    ]);
    // Nothing was swapped since its own sitting.
    expect(rigDeviations(rig, same, swapped('second-8'))).toEqual([]);
  });
});
