/** Pixels for people to look at: the top row first, red, green and blue of each, 0 to 255. */
export interface RgbImage {
  readonly width: number;
  readonly height: number;
  /** 3 x width x height. */
  readonly data: Uint8Array;
}
