import { createHash } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { isMainThread } from 'node:worker_threads';
import type { Parameters } from '../model/suite.ts';
import { numberIn } from './program/parameters.ts';
import { runProgram, type WorkloadReport } from './program/run-program.ts';
import { type BoundingTree, buildTree } from './render/bounding-tree.ts';
import { harbourLane } from './render/harbour-lane.ts';
import { PathTracer } from './render/path-tracer.ts';
import { encodePng } from './render/png.ts';
import { type Picture, renderTile, tileCount } from './render/render-tile.ts';
import type { Scene } from './render/scene.ts';
import { startCrew } from './threads/crew.ts';
import { type Phases, serveCrew } from './threads/serve-crew.ts';

interface Setup {
  readonly scene: Scene;
  readonly tree: BoundingTree;
  readonly picture: Picture;
}

// Started both as the program and as each of its threads.
if (isMainThread) await runProgram('path-trace', measure);
else serveCrew(prepare);

async function measure(parameters: Parameters): Promise<WorkloadReport> {
  const [width, height] = [numberIn(parameters, 'width'), numberIn(parameters, 'height')];
  const samples = numberIn(parameters, 'samples');
  const pixels = new Uint8Array(new SharedArrayBuffer(3 * width * height));
  const picture: Picture = { width, height, samples, seed: numberIn(parameters, 'seed'), pixels };
  const scene = harbourLane();
  const setup: Setup = { scene, tree: buildTree(scene), picture };
  const crew = await startCrew(
    fileURLToPath(import.meta.url),
    numberIn(parameters, 'threads'),
    setup,
  );
  const { seconds } = await crew.phase('render');
  const again = await crew.phase<number | null>('again');
  await crew.dismiss();
  const differing = again.answers.find((tile) => tile !== null);
  if (differing !== undefined)
    throw new Error(`wrong result: tile ${differing} came out differently the second time`);
  writeFileSync('image.png', encodePng(width, height, pixels));
  return {
    seconds,
    samplesPerSecond: (width * height * samples) / seconds,
    pixels: width * height,
    triangles: scene.triangles.length / 9,
    check: createHash('sha256').update(pixels).digest('hex'),
  };
}

function prepare({ scene, tree, picture }: Setup): Phases {
  const tracer = new PathTracer(scene, tree);
  const count = tileCount(picture);
  warmUp(tracer, scene, picture);
  return {
    render: (next) => {
      for (let tile = next(); tile < count; tile = next())
        renderTile(tracer, scene.camera, picture, tile);
    },
    // One tile for each thread, likely one that another thread rendered first.
    again: (next) => {
      const tile = (next() * 7919 + 1) % count;
      const second = { ...picture, pixels: picture.pixels.slice() };
      renderTile(tracer, scene.camera, second, tile);
      return Buffer.compare(second.pixels, picture.pixels) === 0 ? null : tile;
    },
  };
}

/** Renders a small picture for the compiler to see the whole scene; thrown away. */
function warmUp(tracer: PathTracer, scene: Scene, picture: Picture): void {
  const pixels = new Uint8Array(3 * 96 * 54);
  const small: Picture = { width: 96, height: 54, samples: 4, seed: picture.seed, pixels };
  for (let tile = 0; tile < tileCount(small); tile += 1)
    renderTile(tracer, scene.camera, small, tile);
}
