import gammaln from '@stdlib/math-base-special-gammaln';

/** Points and weights of Gauss and Legendre's rule with 16 points on −1 to 1, the half above zero (Abramowitz & Stegun 25.4). */
const rule = [
  [0.09501250983763744, 0.1894506104550685],
  [0.2816035507792589, 0.18260341504492358],
  [0.45801677765722737, 0.16915651939500254],
  [0.6178762444026438, 0.14959598881657674],
  [0.755404408355003, 0.12462897125553388],
  [0.8656312023878318, 0.09515851168249279],
  [0.9445750230732326, 0.062253523938647894],
  [0.9894009349916499, 0.027152459411754096],
] as const;

/** Standard deviations of the spread that the integral reaches to each side; beyond lies less than 1e-16. */
const reach = 12;

/** A panel of the rule spans at most this many widths of whatever is steepest. */
const panelWidths = 2.5;

/** What is integrated, beside its weight. */
export interface ChiIntegrand {
  readonly of: (w: number) => number;
  /** How fast `of` changes at most: the factor of w inside its normal probabilities. */
  readonly steepness: number;
  /** Nothing counts beyond. */
  readonly most?: number;
}

/**
 * Expectation of `of(w)` for w = s/σ, the ratio of a standard deviation from `degreesOfFreedom` (1 or more, whole or not) to
 * the true one. Every power of a t test is such an expectation of normal probabilities: given s, what is left is normal. By
 * Gauss and Legendre's rule, good to 1e-13 for the `of` met here.
 */
export function chiExpectation(
  degreesOfFreedom: number,
  { of, steepness, most = Number.POSITIVE_INFINITY }: ChiIntegrand,
): number {
  const spread = 1 / Math.sqrt(2 * degreesOfFreedom);
  const high = Math.min(most, 1 + reach * spread);
  const low = Math.max(0, 1 - reach * spread);
  if (high <= low) return 0;
  // With w = u^k the density w^(df − 1) has no edge at zero, which the rule would see.
  const k = Math.max(1, Math.ceil(8 / degreesOfFreedom));
  const widest = panelWidths * Math.min(spread, 1 / Math.abs(steepness));
  // Panels of equal width in u are up to k times as wide in w.
  const panels = Math.max(4, Math.min(1000, Math.ceil((k * (high - low)) / widest)));
  const half = degreesOfFreedom / 2;
  const constant = Math.LN2 + (Math.log(half) - Math.log(2 * Math.PI)) / 2 - stirlingError(half);
  return integrate({ low: low ** (1 / k), high: high ** (1 / k), panels }, (u) => {
    const w = u ** k;
    if (w === 0) return 0;
    // (1 − w)(1 + w) + 2 log w: near w = 1, where the density lives, nothing large cancels.
    const log = constant + half * ((1 - w) * (1 + w) + 2 * Math.log1p(w - 1)) - Math.log(w);
    return of(w) * Math.exp(log) * k * u ** (k - 1);
  });
}

/** What Stirling's formula leaves of log Γ(x): its series where that is exact, since log Γ itself is then too large. */
function stirlingError(x: number): number {
  if (x > 20) return (1 / 12 - (1 / 360 - (1 / 1260 - 1 / (1680 * x * x)) / (x * x)) / (x * x)) / x;
  return gammaln(x) - ((x - 0.5) * Math.log(x) - x + Math.log(2 * Math.PI) / 2);
}

function integrate(
  { low, high, panels }: { low: number; high: number; panels: number },
  of: (u: number) => number,
): number {
  const half = (high - low) / panels / 2;
  let total = 0;
  for (let panel = 0; panel < panels; panel += 1) {
    const middle = low + (2 * panel + 1) * half;
    for (const [point, weight] of rule) {
      total += weight * (of(middle - point * half) + of(middle + point * half));
    }
  }
  return total * half;
}
