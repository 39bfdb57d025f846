import { describe, expect, it } from 'vitest';
import { openMeter } from '../../../../src/runner/meter/open-meter.ts';

describe('openMeter', () => {
  it.skipIf(process.platform !== 'linux')('takes the kernel meter where there is one', async () => {
    const { meter, why } = await openMeter();
    await meter.close();
    expect([meter.name, why]).toEqual(['kernel', null]);
  });

  it('takes the portable one when asked, and says so', async () => {
    const { meter, why } = await openMeter({ portable: true });
    await meter.close();
    expect([meter.name, why]).toEqual(['portable', 'it was asked for']);
  });

  it('tells why the kernel meter is not to be had', async () => {
    const platform = Object.getOwnPropertyDescriptor(process, 'platform')!;
    Object.defineProperty(process, 'platform', { value: 'plan9' });
    try {
      const { meter, why } = await openMeter();
      await meter.close();
      expect(meter.name).toBe('portable');
      expect(why).toContain('plan9');
    } finally {
      Object.defineProperty(process, 'platform', platform);
    }
  });
});
