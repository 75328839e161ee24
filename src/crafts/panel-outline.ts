/** Outer edges of finished panels, counter-clockwise. */
import type { ArcChain } from "../geometry/arc-chain.ts";
import type { Bounds } from "../geometry/bounds.ts";
import { filletPoints } from "../geometry/fillet.ts";
import type { Point } from "../geometry/point.ts";

/** A box with corners of this radius; one too large for the box becomes half its shorter side. */
export function boxOutline({ minX, minY, maxX, maxY }: Bounds, radiusMm: number): ArcChain {
  const corners = [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
  const radius = Math.min(radiusMm, (maxX - minX) / 2, (maxY - minY) / 2);
  return filletPoints(
    corners,
    corners.map(() => radius),
    true,
  );
}

export function circleOutline({ x, y }: Point, radiusMm: number): ArcChain {
  const quarter = Math.SQRT2 - 1;
  return {
    closed: true,
    vertices: [
      { x: x + radiusMm, y, bulge: quarter },
      { x, y: y + radiusMm, bulge: quarter },
      { x: x - radiusMm, y, bulge: quarter },
      { x, y: y - radiusMm, bulge: quarter },
    ],
  };
}
