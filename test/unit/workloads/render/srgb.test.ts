import { describe, expect, it } from 'vitest';
import { levelOf, linearFrom } from '../../../../src/workloads/render/srgb.ts';

// IEC 61966-2-1's two formulas, written with the engine's own power function (constants from memory).
const decode = (v: number) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
const encode = (l: number) => (l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055);

describe('sRGB', () => {
  it('decoding agrees with the standard’s formula', () => {
    for (let step = 0; step <= 1000; step += 1)
      expect(linearFrom(step / 1000)).toBeCloseTo(decode(step / 1000), 13);
  });

  it('levels are those of the encoding formula, rounded', () => {
    for (let step = 0; step <= 20_000; step += 1) {
      const light = step / 20_000;
      expect(levelOf(light)).toBe(Math.round(255 * encode(light)));
    }
  });

  it('levels come back from their own light, and light outside is clipped', () => {
    for (let level = 0; level < 256; level += 1)
      expect(levelOf(linearFrom(level / 255))).toBe(level);
    expect([levelOf(-1), levelOf(1.5), levelOf(1e9)]).toEqual([0, 255, 255]);
  });
});
