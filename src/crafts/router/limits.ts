/**
 * What the carved surface must keep within: for every pixel the lowest and the highest that it may
 * lie. Regions are shrunk by the tolerance sideways, heights are given it up and down.
 */
import { grow, type Region, subtract } from "../../geometry/region.ts";
import { type PixelGrid, visitSpans } from "./raster.ts";
import { REGION_CHORD_MM } from "./router-panel.ts";

export interface Limits {
  /** -Infinity where anything goes. */
  readonly lowest: Float32Array;
  /** 0, the stock's upper face, where anything goes. */
  readonly highest: Float32Array;
}

/** Limits put together from what stands and what is cleared; each only ever narrows what was there. */
export class LimitMaker {
  readonly limits: Limits;
  readonly #grid: PixelGrid;
  readonly #toleranceMm: number;

  constructor(grid: PixelGrid, toleranceMm: number) {
    const pixels = grid.columns * grid.rows;
    this.#grid = grid;
    this.#toleranceMm = toleranceMm;
    this.limits = {
      lowest: new Float32Array(pixels).fill(Number.NEGATIVE_INFINITY),
      highest: new Float32Array(pixels),
    };
  }

  /** The region stands at the height `z`: nothing of it may be cut away. */
  stand(region: Region, z: number): void {
    this.#raise(this.#shrunk(region), z - this.#toleranceMm);
  }

  /** The region is promised to be cleared down to `z`; it may be lower. */
  clear(region: Region, z: number): void {
    this.#lower(this.#shrunk(region), z + this.#toleranceMm);
  }

  /** The region comes out at the heights `z`, one for each pixel. */
  shape(region: Region, z: Float32Array): void {
    const { lowest, highest } = this.limits;
    const tolerance = this.#toleranceMm;
    visitSpans(this.#shrunk(region), this.#grid, (from, to) => {
      for (let i = from; i < to; i++) {
        const at = z[i] ?? 0;
        lowest[i] = Math.max(lowest[i] ?? 0, at - tolerance);
        highest[i] = Math.min(highest[i] ?? 0, at + tolerance);
      }
    });
  }

  /** Nothing of the region may be cut below `z`, but for what is cut through on purpose. */
  keep(region: Region, z: number, cutThrough: Region): void {
    const through = grow(cutThrough, this.#toleranceMm, REGION_CHORD_MM);
    // The height is a depth that must stay, not a surface to come out: no tolerance.
    this.#raise(subtract(this.#shrunk(region), through), z);
  }

  #shrunk(region: Region): Region {
    return grow(region, -this.#toleranceMm, REGION_CHORD_MM);
  }

  #raise(region: Region, z: number): void {
    const { lowest } = this.limits;
    visitSpans(region, this.#grid, (from, to) => {
      for (let i = from; i < to; i++) lowest[i] = Math.max(lowest[i] ?? 0, z);
    });
  }

  #lower(region: Region, z: number): void {
    const { highest } = this.limits;
    visitSpans(region, this.#grid, (from, to) => {
      for (let i = from; i < to; i++) highest[i] = Math.min(highest[i] ?? 0, z);
    });
  }
}
