import { randomFor } from '../corpus/random.ts';
import { type Planes, videoHeight, videoWidth } from './video-planes.ts';
import { drawDisc, makeShot, type Shot } from './video-shot.ts';
import { makeTexture, type Texture, textureHeight, textureWidth } from './video-texture.ts';

const lumaBytes = videoWidth * videoHeight;
const chromaWidth = videoWidth / 2;
const chromaBytes = lumaBytes / 4;
const framesInShot = 120;

// YUV4MPEG2, as yuv4mpeg(5) of mjpegtools has it.
const heading = `YUV4MPEG2 W${videoWidth} H${videoHeight} F30:1 Ip A1:1 C420jpeg\n`;
const frameMark = 'FRAME\n';
/** What each frame adds to a file: 345,606 bytes. */
export const frameBytes: number = frameMark.length + lumaBytes + 2 * chromaBytes;

/** Whole frames nearest to a size, one at least. */
export function framesOf(sizeBytes: number): number {
  return Math.max(1, Math.round((sizeBytes - heading.length) / frameBytes));
}

/**
 * Raw video with what makes encoders work: a textured ground that pans, discs that move and cover one another, sensor
 * noise, and a cut every four seconds. A shorter video is the beginning of a longer one. Integer arithmetic only.
 */
export function* videoParts(sizeBytes: number, seed: number): Generator<Uint8Array> {
  yield Buffer.from(heading, 'latin1');
  const texture = makeTexture(seed);
  let shot = makeShot(seed, 0);
  for (let frame = 0; frame < framesOf(sizeBytes); frame += 1) {
    const time = frame % framesInShot;
    if (time === 0) shot = makeShot(seed, frame / framesInShot);
    const bytes = new Uint8Array(frameBytes);
    bytes.set(Buffer.from(frameMark, 'latin1'));
    const luma = bytes.subarray(frameMark.length, frameMark.length + lumaBytes);
    const blue = bytes.subarray(frameMark.length + lumaBytes, frameBytes - chromaBytes);
    const red = bytes.subarray(frameBytes - chromaBytes);
    drawGround({ luma, blue, red }, texture, shot, time);
    for (const disc of shot.discs) drawDisc({ luma, blue, red }, texture, disc, time);
    addNoise(luma, seed, frame);
    yield bytes;
  }
}

function drawGround({ luma, blue, red }: Planes, texture: Texture, shot: Shot, time: number): void {
  const left = shot.left + shot.panX * time;
  const top = shot.top + shot.panY * time;
  for (let y = 0; y < videoHeight; y += 1) {
    const row = ((y + top) & (textureHeight - 1)) * textureWidth;
    for (let x = 0; x < videoWidth; x += 1)
      luma[y * videoWidth + x] = texture[row + ((x + left) & (textureWidth - 1))] ?? 0;
  }
  for (let y = 0; y < videoHeight / 2; y += 1) {
    const row = ((2 * y + top) & (textureHeight - 1)) * textureWidth;
    for (let x = 0; x < chromaWidth; x += 1) {
      const shade = (texture[row + ((2 * x + left) & (textureWidth - 1))] ?? 0) - 128;
      blue[y * chromaWidth + x] = shot.blue + (shade >> 3);
      red[y * chromaWidth + x] = shot.red - (shade >> 2);
    }
  }
}

/** From -3 to 3, small values more often; a fresh one for each pixel and frame. */
function addNoise(luma: Uint8Array, seed: number, frame: number): void {
  const random = randomFor(seed, 0x4e4f4953, frame);
  for (let at = 0; at < luma.length; at += 8) {
    let bits = random.next();
    for (let index = at; index < at + 8; index += 1) {
      luma[index] = (luma[index] ?? 0) + (bits & 3) + ((bits >>> 2) & 3) - 3;
      bits >>>= 4;
    }
  }
}
