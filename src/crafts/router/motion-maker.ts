/** Motions strung together, the place of the cutter kept: rapid over clear stock, then into the cut. */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { type ArcChain, chainStart, segmentsOf } from "../../geometry/arc-chain.ts";
import { distance } from "../../geometry/point.ts";
import { arcOf, type Segment, segmentLength } from "../../geometry/segment.ts";
import type { Motion, Place3 } from "../../output/toolpath.ts";

/** Heights, all z: positive above the stock's upper face. */
export interface MotionHeights {
  /** Rapid moves sideways happen here. */
  readonly clearanceZ: number;
  /** Rapid moves down end here, above what stands below. */
  readonly approachZ: number;
}

export class MotionMaker {
  readonly motions: Motion[] = [];
  readonly start: Place3;
  #at: Place3;
  readonly #heights: MotionHeights;

  /** The cutter waits over (x, y) at the clearance height. */
  constructor(x: number, y: number, heights: MotionHeights) {
    this.start = { x, y, z: heights.clearanceZ };
    this.#at = this.start;
    this.#heights = heights;
  }

  get at(): Place3 {
    return this.#at;
  }

  /** Up to the clearance height, over, and down to the approach height (or `downTo`, where stock is known to be gone). */
  rapidOver(x: number, y: number, downTo = this.#heights.approachZ): void {
    const { clearanceZ } = this.#heights;
    if (this.#at.x !== x || this.#at.y !== y) {
      this.#rapid({ ...this.#at, z: clearanceZ });
      this.#rapid({ x, y, z: clearanceZ });
    }
    this.#rapid({ x, y, z: downTo });
  }

  retract(): void {
    this.#rapid({ ...this.#at, z: this.#heights.clearanceZ });
  }

  lineTo(x: number, y: number, z: number, feedMmPerMin: number): void {
    if (Math.hypot(x - this.#at.x, y - this.#at.y, z - this.#at.z) <= SAME_POINT_MM) return;
    this.#push({ kind: "line", x, y, z, feedMmPerMin });
  }

  /**
   * Along a chain from its start (a closed one all the way round), going evenly to `z` over its
   * length. The cutter must stand over the chain's start.
   */
  follow(chain: ArcChain, z: number, feedMmPerMin: number): void {
    const segments = segmentsOf(chain);
    const length = segments.reduce((sum, segment) => sum + segmentLength(segment), 0);
    const from = this.#at.z;
    let gone = 0;
    for (const segment of segments) {
      gone += segmentLength(segment);
      const at = length > 0 ? from + ((z - from) * gone) / length : z;
      this.#segment(segment, segment === segments.at(-1) ? z : at, feedMmPerMin);
    }
  }

  /** In a straight line to the chain's start, then along it. */
  followFrom(chain: ArcChain, z: number, feedMmPerMin: number): void {
    const { x, y } = chainStart(chain);
    this.lineTo(x, y, this.#at.z, feedMmPerMin);
    this.follow(chain, z, feedMmPerMin);
  }

  #segment(segment: Segment, z: number, feedMmPerMin: number): void {
    const { to, bulge } = segment;
    if (bulge === 0) {
      this.lineTo(to.x, to.y, z, feedMmPerMin);
      return;
    }
    if (distance(segment.from, to) <= SAME_POINT_MM) return;
    const { centre } = arcOf(segment);
    this.#push({
      kind: "arc",
      x: to.x,
      y: to.y,
      z,
      centreX: centre.x,
      centreY: centre.y,
      clockwise: bulge < 0,
      feedMmPerMin,
    });
  }

  #rapid({ x, y, z }: Place3): void {
    if (this.#at.x === x && this.#at.y === y && this.#at.z === z) return;
    this.#push({ kind: "rapid", x, y, z });
  }

  #push(motion: Motion): void {
    this.motions.push(motion);
    this.#at = { x: motion.x, y: motion.y, z: motion.z };
  }
}
