import type { Camera, Material, Scene, Sky, Triple } from './scene.ts';

/** Collects primitives into the flat arrays of a scene. Uses + - * / and square roots only, as all rendering does. */
export class SceneBuilder {
  private readonly materials: Material[] = [];
  private readonly spheres: number[] = [];
  private readonly sphereMaterials: number[] = [];
  private readonly triangles: number[] = [];
  private readonly normals: number[] = [];
  private readonly triangleMaterials: number[] = [];

  sphere(centre: Triple, radius: number, material: Material): this {
    this.spheres.push(...centre, radius);
    this.sphereMaterials.push(this.numberOf(material));
    return this;
  }

  /** Corners in any order; without normals the triangle is flat. */
  triangle(
    corners: readonly [Triple, Triple, Triple],
    material: Material,
    normals?: readonly [Triple, Triple, Triple],
  ): this {
    const [a, b, c] = corners;
    const one = minus(b, a);
    const other = minus(c, a);
    const flat = cross(one, other);
    this.triangles.push(...a, ...one, ...other);
    for (const normal of normals ?? [flat, flat, flat]) this.normals.push(...normal);
    this.triangleMaterials.push(this.numberOf(material));
    return this;
  }

  /** Corners in order around. */
  quad(a: Triple, b: Triple, c: Triple, d: Triple, material: Material): this {
    return this.triangle([a, b, c], material).triangle([a, c, d], material);
  }

  box([x0, y0, z0]: Triple, [x1, y1, z1]: Triple, material: Material): this {
    return this.quad([x0, y0, z0], [x0, y0, z1], [x0, y1, z1], [x0, y1, z0], material)
      .quad([x1, y0, z0], [x1, y1, z0], [x1, y1, z1], [x1, y0, z1], material)
      .quad([x0, y0, z0], [x0, y1, z0], [x1, y1, z0], [x1, y0, z0], material)
      .quad([x0, y0, z1], [x1, y0, z1], [x1, y1, z1], [x0, y1, z1], material)
      .quad([x0, y0, z0], [x1, y0, z0], [x1, y0, z1], [x0, y0, z1], material)
      .quad([x0, y1, z0], [x0, y1, z1], [x1, y1, z1], [x1, y1, z0], material);
  }

  /** A ring around the upright axis through `base`, from one radius and height above the base to another. */
  ring(
    base: Triple,
    [lowRadius, low]: readonly [number, number],
    [highRadius, high]: readonly [number, number],
    material: Material,
  ): this {
    const at = (corner: readonly [number, number], radius: number, height: number): Triple => [
      base[0] + corner[0] * radius,
      base[1] + height,
      base[2] + corner[1] * radius,
    ];
    circle.forEach((corner, index) => {
      const next = circle[(index + 1) % circle.length] ?? corner;
      this.quad(
        at(corner, lowRadius, low),
        at(next, lowRadius, low),
        at(next, highRadius, high),
        at(corner, highRadius, high),
        material,
      );
    });
    return this;
  }

  build(camera: Camera, sky: Sky): Scene {
    const materialOf = Uint16Array.from([...this.sphereMaterials, ...this.triangleMaterials]);
    const isLamp = (sphere: number): boolean =>
      this.materials[materialOf[sphere] ?? 0]?.kind === 'lamp';
    return {
      camera,
      sky,
      materials: this.materials,
      sphereCount: this.sphereMaterials.length,
      spheres: Float64Array.from(this.spheres),
      triangles: Float64Array.from(this.triangles),
      normals: Float64Array.from(this.normals),
      materialOf,
      lamps: Uint32Array.from(this.sphereMaterials.keys()).filter(isLamp),
    };
  }

  private numberOf(material: Material): number {
    const known = this.materials.indexOf(material);
    return known >= 0 ? known : this.materials.push(material) - 1;
  }
}

/** The unit vector along `vector`. */
export function normalised([x, y, z]: Triple): Triple {
  const length = Math.sqrt(x * x + y * y + z * z);
  return [x / length, y / length, z / length];
}

export function cross([ax, ay, az]: Triple, [bx, by, bz]: Triple): Triple {
  return [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx];
}

export function minus([ax, ay, az]: Triple, [bx, by, bz]: Triple): Triple {
  return [ax - bx, ay - by, az - bz];
}

// 16 corners of a regular polygon, found by halving angles: no sine or cosine.
const circle: readonly (readonly [number, number])[] = halved(
  halved([
    [1, 0],
    [0, 1],
    [-1, 0],
    [0, -1],
  ]),
);

function halved(
  corners: readonly (readonly [number, number])[],
): readonly (readonly [number, number])[] {
  return corners.flatMap((corner, index) => {
    const [nextX, nextY] = corners[(index + 1) % corners.length] ?? corner;
    const x = corner[0] + nextX;
    const y = corner[1] + nextY;
    const length = Math.sqrt(x * x + y * y);
    return [corner, [x / length, y / length]] as const;
  });
}
