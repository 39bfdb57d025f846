/**
 * Smallest linear light that is shown as each of the 256 levels: the middle between its neighbours on the sRGB scale
 * (IEC 61966-2-1). The power 2.4 is found with + - * / alone.
 */
const thresholds: Float64Array = Float64Array.from({ length: 256 }, (_, level) =>
  level === 0 ? Number.NEGATIVE_INFINITY : linearFrom((level - 0.5) / 255),
);

/** sRGB level, 0 to 255, nearest to a linear light of 0 to 1; light outside is clipped. */
export function levelOf(light: number): number {
  let level = 0;
  for (let step = 128; step >= 1; step /= 2)
    if (light >= (thresholds[level + step] as number)) level += step;
  return level;
}

/** Linear light of an sRGB value, both 0 to 1. */
export function linearFrom(value: number): number {
  if (value <= 0.04045) return value / 12.92;
  const base = (value + 0.055) / 1.055;
  const square = base * base;
  return square * fifthRoot(square);
}

// Newton's method from above, until it no longer falls: for 0 < x <= 1.
function fifthRoot(x: number): number {
  let root = 1;
  for (;;) {
    const fourth = root * root * root * root;
    const better = (4 * root + x / fourth) / 5;
    if (better >= root) return root;
    root = better;
  }
}
