/** Rectangles and circles as closed chains, counter-clockwise. */
import { type ArcChain, polyline } from "./arc-chain.ts";
import type { Bounds } from "./bounds.ts";
import type { Point } from "./point.ts";

export function rectangleChain({ minX, minY, maxX, maxY }: Bounds): ArcChain {
  return polyline(
    [
      { x: minX, y: minY },
      { x: maxX, y: minY },
      { x: maxX, y: maxY },
      { x: minX, y: maxY },
    ],
    true,
  );
}

/** Two half turns. */
export function circleChain({ x, y }: Point, radius: number): ArcChain {
  return {
    closed: true,
    vertices: [
      { x: x - radius, y, bulge: 1 },
      { x: x + radius, y, bulge: 1 },
    ],
  };
}
