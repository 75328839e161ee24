/**
 * The packer's own types do not resolve for its ES module build, which is the one that plain
 * Node can import. Only what we use.
 */
declare module "maxrects-packer/dist/maxrects-packer.mjs" {
  export interface PackedRect<T> {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
    readonly data: T;
  }

  export class MaxRectsPacker<T> {
    constructor(
      width: number,
      height: number,
      padding: number,
      options: { smart: boolean; pot: boolean; square: boolean; allowRotation: boolean; border: number },
    );
    add(width: number, height: number, data: T): void;
    readonly bins: readonly { readonly rects: readonly PackedRect<T>[] }[];
  }
}
