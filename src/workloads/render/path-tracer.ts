import type { Random } from '../corpus/random.ts';
import type { BoundingTree } from './bounding-tree.ts';
import { closestHit, type Hit, type Ray } from './closest-hit.ts';
import { reflectedShare } from './fresnel.ts';
import { type DiscPoint, drawCosine, drawInCone } from './sampling.ts';
import type { Material, Scene, Triple } from './scene.ts';

/** Bounces before chance may end a path. */
const sureBounces = 3;
/** A path as long as this is lost; in closed glass only. */
const mostBounces = 256;

/**
 * Traces light paths from the eye. One for each thread: it keeps its working numbers between calls so that none are
 * allocated. Only + - * / and square roots, which IEEE 754 rounds in one way: the same picture on every machine.
 */
export class PathTracer {
  /** Radiance of the last path: red, green, blue. */
  readonly radiance: Float64Array = new Float64Array(3);
  /** Set before `trace`; the direction has length 1. */
  readonly ray: Ray = { ox: 0.5, oy: 0.5, oz: 0.5, dx: 0.5, dy: 0.5, dz: 0.5 };
  private readonly shadowRay: Ray = { ox: 0.5, oy: 0.5, oz: 0.5, dx: 0.5, dy: 0.5, dz: 0.5 };
  private readonly hit: Hit = { distance: 0.5, primitive: -1, u: 0.5, v: 0.5 };
  private readonly disc: DiscPoint = { x: 0.5, y: 0.5, square: 0.5 };
  /** Shading normal, towards the ray's origin. */
  private readonly normal: Float64Array = new Float64Array(3);
  /** What is left of a unit of light at this bounce. */
  private readonly left: Float64Array = new Float64Array(3);
  private isInside = false;
  private readonly scene: Scene;
  private readonly tree: BoundingTree;

  constructor(scene: Scene, tree: BoundingTree) {
    this.scene = scene;
    this.tree = tree;
  }

  /** Follows one path from `ray` and leaves its light in `radiance`. */
  trace(random: Random): void {
    this.radiance.fill(0);
    this.left.fill(1);
    // Lamps are sampled at each diffuse surface, so a diffuse bounce that meets one by chance must not count it.
    let countsLamps = true;
    for (let bounce = 0; bounce < mostBounces; bounce += 1) {
      closestHit(this.scene, this.tree, this.ray, this.hit);
      if (this.hit.primitive < 0) {
        this.addSky();
        return;
      }
      const material = this.materialAtHit();
      if (material.kind === 'lamp') {
        if (countsLamps) this.add(material.radiance);
        return;
      }
      this.moveToHit();
      countsLamps = this.bounce(material, random);
      if (bounce >= sureBounces && !this.survives(random)) return;
    }
  }

  /** Sends the ray on; true where it went by mirror or refraction. */
  private bounce(material: Exclude<Material, { kind: 'lamp' }>, random: Random): boolean {
    switch (material.kind) {
      case 'diffuse':
        this.tint(material.tint);
        this.scatter(random);
        return false;
      case 'mirror':
        this.tint(material.tint);
        this.reflect();
        return true;
      case 'glass':
        this.tint(material.tint);
        this.reflectOrRefract(this.isInside ? material.index : 1 / material.index, random);
        return true;
      case 'polished':
        if (random.unit() < reflectedShare(this.cosine(), 1 / material.index)) {
          // The coat reflects every colour alike.
          this.reflect();
          return true;
        }
        this.tint(material.tint);
        this.scatter(random);
        return false;
    }
  }

  private scatter(random: Random): void {
    if (this.scene.lamps.length > 0) this.addLamp(random);
    const { normal } = this;
    drawCosine(
      random,
      this.disc,
      normal[0] as number,
      normal[1] as number,
      normal[2] as number,
      this.ray,
    );
  }

  private reflect(): void {
    const { ray, normal } = this;
    const twice = 2 * this.cosine();
    ray.dx += twice * (normal[0] as number);
    ray.dy += twice * (normal[1] as number);
    ray.dz += twice * (normal[2] as number);
  }

  /** `ratio`: refractive index on this side divided by the one beyond. */
  private reflectOrRefract(ratio: number, random: Random): void {
    const cosine = this.cosine();
    if (random.unit() < reflectedShare(cosine, ratio)) {
      this.reflect();
      return;
    }
    const { ray, normal } = this;
    const along = ratio * cosine - Math.sqrt(1 - ratio * ratio * (1 - cosine * cosine));
    ray.dx = ratio * ray.dx + along * (normal[0] as number);
    ray.dy = ratio * ray.dy + along * (normal[1] as number);
    ray.dz = ratio * ray.dz + along * (normal[2] as number);
  }

  /** Light that reaches the hit straight from one lamp, drawn at random, through a random direction towards it. */
  private addLamp(random: Random): void {
    const { scene, ray, shadowRay, normal, left, radiance } = this;
    const choice = Math.floor(random.unit() * scene.lamps.length);
    const lamp = scene.lamps[choice] as number;
    const x = (scene.spheres[4 * lamp] as number) - ray.ox;
    const y = (scene.spheres[4 * lamp + 1] as number) - ray.oy;
    const z = (scene.spheres[4 * lamp + 2] as number) - ray.oz;
    const radius = scene.spheres[4 * lamp + 3] as number;
    const square = x * x + y * y + z * z;
    const sineSquared = (radius * radius) / square;
    if (sineSquared >= 1) return;
    const lessCosine = sineSquared / (1 + Math.sqrt(1 - sineSquared));
    const distance = Math.sqrt(square);
    shadowRay.ox = ray.ox;
    shadowRay.oy = ray.oy;
    shadowRay.oz = ray.oz;
    drawInCone(random, this.disc, x / distance, y / distance, z / distance, lessCosine, shadowRay);
    const cosine =
      shadowRay.dx * (normal[0] as number) +
      shadowRay.dy * (normal[1] as number) +
      shadowRay.dz * (normal[2] as number);
    if (cosine <= 0) return;
    closestHit(scene, this.tree, shadowRay, this.hit);
    if (this.hit.primitive !== lamp) return;
    const material = scene.materials[scene.materialOf[lamp] as number];
    if (material?.kind !== 'lamp') return;
    // Diffuse reflection sends 1 / pi a steradian; the cone has 2 pi (1 - cosine) steradians.
    const share = 2 * lessCosine * cosine * scene.lamps.length;
    for (let colour = 0; colour < 3; colour += 1)
      radiance[colour] =
        (radiance[colour] as number) +
        share * (left[colour] as number) * (material.radiance[colour] as number);
  }

  private addSky(): void {
    const { sky } = this.scene;
    const { ray, radiance, left } = this;
    const height = ray.dy > 0 ? Math.sqrt(ray.dy) : 0;
    const [gx, gy, gz] = sky.glowDirection;
    const towards = ray.dx * gx + ray.dy * gy + ray.dz * gz;
    const glow = Math.max(0, towards);
    const glow2 = glow * glow;
    const glow8 = glow2 * glow2 * glow2 * glow2;
    const halo = glow8 * glow8 * glow8 * glow8;
    for (let colour = 0; colour < 3; colour += 1) {
      const low = sky.horizon[colour] as number;
      const high = sky.zenith[colour] as number;
      const light = low + (high - low) * height + (sky.glow[colour] as number) * halo;
      radiance[colour] = (radiance[colour] as number) + light * (left[colour] as number);
    }
  }

  private add(light: Triple): void {
    for (let colour = 0; colour < 3; colour += 1)
      this.radiance[colour] =
        (this.radiance[colour] as number) +
        (light[colour] as number) * (this.left[colour] as number);
  }

  private tint(tint: Triple): void {
    for (let colour = 0; colour < 3; colour += 1)
      this.left[colour] = (this.left[colour] as number) * (tint[colour] as number);
  }

  /** Chance ends dim paths; those that go on stand for those that ended. */
  private survives(random: Random): boolean {
    const { left } = this;
    const chance = Math.max(left[0] as number, left[1] as number, left[2] as number);
    if (chance >= 1) return true;
    if (random.unit() >= chance) return false;
    for (let colour = 0; colour < 3; colour += 1) left[colour] = (left[colour] as number) / chance;
    return true;
  }

  private materialAtHit(): Material {
    return this.scene.materials[this.scene.materialOf[this.hit.primitive] as number] as Material;
  }

  /** Cosine of the angle between the way back and the normal. */
  private cosine(): number {
    const { ray, normal } = this;
    return -(
      ray.dx * (normal[0] as number) +
      ray.dy * (normal[1] as number) +
      ray.dz * (normal[2] as number)
    );
  }

  /** Moves the ray's origin to the hit and finds the normal there. */
  private moveToHit(): void {
    const { scene, ray, hit, normal } = this;
    ray.ox += hit.distance * ray.dx;
    ray.oy += hit.distance * ray.dy;
    ray.oz += hit.distance * ray.dz;
    let x: number;
    let y: number;
    let z: number;
    if (hit.primitive < scene.sphereCount) {
      const at = 4 * hit.primitive;
      x = ray.ox - (scene.spheres[at] as number);
      y = ray.oy - (scene.spheres[at + 1] as number);
      z = ray.oz - (scene.spheres[at + 2] as number);
    } else {
      const { normals } = scene;
      const at = 9 * (hit.primitive - scene.sphereCount);
      const { u, v } = hit;
      const w = 1 - u - v;
      x =
        w * (normals[at] as number) +
        u * (normals[at + 3] as number) +
        v * (normals[at + 6] as number);
      y =
        w * (normals[at + 1] as number) +
        u * (normals[at + 4] as number) +
        v * (normals[at + 7] as number);
      z =
        w * (normals[at + 2] as number) +
        u * (normals[at + 5] as number) +
        v * (normals[at + 8] as number);
    }
    this.isInside = x * ray.dx + y * ray.dy + z * ray.dz > 0;
    const scale = (this.isInside ? -1 : 1) / Math.sqrt(x * x + y * y + z * z);
    normal[0] = scale * x;
    normal[1] = scale * y;
    normal[2] = scale * z;
  }
}
