export const videoWidth = 640;
export const videoHeight = 360;

/** One frame, 4:2:0 with eight bits: luma in full, blue and red difference with half the width and height. */
export interface Planes {
  readonly luma: Uint8Array;
  readonly blue: Uint8Array;
  readonly red: Uint8Array;
}
