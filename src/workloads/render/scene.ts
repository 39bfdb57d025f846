/** A point, direction or colour: x y z, or red green blue in linear light. */
export type Triple = readonly [number, number, number];

/** How a surface answers light. Tints multiply what leaves; 1 loses nothing. */
export type Material =
  | { readonly kind: 'diffuse'; readonly tint: Triple }
  | { readonly kind: 'mirror'; readonly tint: Triple }
  | { readonly kind: 'glass'; readonly tint: Triple; readonly index: number }
  /** Diffuse under a clear coat of the refractive index. */
  | { readonly kind: 'polished'; readonly tint: Triple; readonly index: number }
  /** Radiance, the same in every direction; only for spheres. */
  | { readonly kind: 'lamp'; readonly radiance: Triple };

/** Light from outside: from horizon to zenith, with a glow around one direction (a unit vector). */
export interface Sky {
  readonly horizon: Triple;
  readonly zenith: Triple;
  readonly glow: Triple;
  readonly glowDirection: Triple;
}

export interface Camera {
  readonly position: Triple;
  readonly target: Triple;
  /** Half the picture's height at distance 1. */
  readonly halfHeight: number;
}

/** What is rendered, in flat arrays. Spheres are primitives 0 up to sphereCount, triangles follow. */
export interface Scene {
  readonly camera: Camera;
  readonly sky: Sky;
  readonly materials: readonly Material[];
  readonly sphereCount: number;
  /** Centre and radius: 4 numbers a sphere. */
  readonly spheres: Float64Array;
  /** First corner and the two edges from it: 9 numbers a triangle. */
  readonly triangles: Float64Array;
  /** Normals at the three corners, of any length: 9 numbers a triangle. */
  readonly normals: Float64Array;
  /** Index into `materials` for each primitive. */
  readonly materialOf: Uint16Array;
  /** The spheres that are lamps. */
  readonly lamps: Uint32Array;
}

/** Light of the same radiance from everywhere. */
export function uniformSky(radiance: Triple): Sky {
  return { horizon: radiance, zenith: radiance, glow: [0, 0, 0], glowDirection: [0, 1, 0] };
}
