/** Value at a share of the sorted values, 0 to 1, by linear interpolation. */
export function quantile(values, share) {
  const sorted = [...values].sort((a, b) => a - b);
  const place = share * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
}

/**
 * A statistic of pairs and its 95 % percentile bootstrap interval (Efron and Tibshirani 1993, chapter 13),
 * whole pairs drawn 4,000 times, from a fixed start.
 */
export function bootstrapPairs(pairs, statistic) {
  const random = randomFrom(20_240_501);
  const drawn = Array.from({ length: 4000 }, () =>
    statistic(pairs.map(() => pairs[Math.floor(random() * pairs.length)])),
  );
  return {
    value: statistic(pairs),
    low: quantile(drawn, 0.025),
    high: quantile(drawn, 0.975),
  };
}

/** Numbers in [0, 1), the same for the same start: a 32-bit linear congruential generator, high bits used. */
function randomFrom(start) {
  let state = start >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state >>> 8) / 2 ** 24;
  };
}

export function renderRatio({ value, low, high }, digits = 3) {
  return `${value.toFixed(digits)} (95 % ${low.toFixed(digits)} to ${high.toFixed(digits)})`;
}
