/** Similarities of the plane (move, turn, scale, mirror) applied to chains: arcs stay arcs. */
import type { ArcChain } from "./arc-chain.ts";
import type { Point } from "./point.ts";

/** x' = a x + c y + e, y' = b x + d y + f, with (a, b) and (c, d) of equal length and at right angles. */
export interface Transform {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export function moveBy(x: number, y: number): Transform {
  return { a: 1, b: 0, c: 0, d: 1, e: x, f: y };
}

/** Counter-clockwise about the origin. */
export function turnBy(radians: number): Transform {
  const cos = Math.cos(radians);
  const sin = Math.sin(radians);
  return { a: cos, b: sin, c: -sin, d: cos, e: 0, f: 0 };
}

export function scaleBy(factor: number): Transform {
  return { a: factor, b: 0, c: 0, d: factor, e: 0, f: 0 };
}

/** Left and right exchanged about the vertical line at `x`. */
export function mirrorAt(x: number): Transform {
  return { a: -1, b: 0, c: 0, d: 1, e: 2 * x, f: 0 };
}

/** First `first`, then `second`. */
export function followedBy(first: Transform, second: Transform): Transform {
  return {
    a: second.a * first.a + second.c * first.b,
    b: second.b * first.a + second.d * first.b,
    c: second.a * first.c + second.c * first.d,
    d: second.b * first.c + second.d * first.d,
    e: second.a * first.e + second.c * first.f + second.e,
    f: second.b * first.e + second.d * first.f + second.f,
  };
}

export function transformPoint({ x, y }: Point, by: Transform): Point {
  return { x: by.a * x + by.c * y + by.e, y: by.b * x + by.d * y + by.f };
}

/** A mirroring transform flips the sign of every bulge. */
export function transformChain(chain: ArcChain, by: Transform): ArcChain {
  const flips = by.a * by.d - by.b * by.c < 0;
  return {
    closed: chain.closed,
    vertices: chain.vertices.map((vertex) => {
      const { x, y } = transformPoint(vertex, by);
      return { x, y, bulge: flips && vertex.bulge !== 0 ? -vertex.bulge : vertex.bulge };
    }),
  };
}
