/**
 * Share of unpolarized light that a smooth boundary reflects (Fresnel's equations), 1 where all of it is.
 * `cosine` is that of the angle to the normal on the side the light comes from, `ratio` the refractive index there
 * divided by the one beyond.
 */
export function reflectedShare(cosine: number, ratio: number): number {
  const beyondSquared = 1 - ratio * ratio * (1 - cosine * cosine);
  if (beyondSquared <= 0) return 1;
  const beyond = Math.sqrt(beyondSquared);
  const across = (ratio * cosine - beyond) / (ratio * cosine + beyond);
  const along = (cosine - ratio * beyond) / (cosine + ratio * beyond);
  return (across * across + along * along) / 2;
}
