/** The arcs among a router's motions: how far they turn. A motion is at most half a turn. */
import { minus, type Point, turnBetween } from "../geometry/point.ts";
import type { Motion } from "./toolpath.ts";

export type ArcMotion = Extract<Motion, { readonly kind: "arc" }>;

/** What is known of an arc besides where it begins. */
export type ArcCourse = Pick<ArcMotion, "x" | "y" | "centreX" | "centreY" | "clockwise">;

/**
 * The angle that an arc turns through, radians from 0 to pi: a half turn that computing made a
 * hair too long or too short stays one, and no turn does not become a whole one.
 */
export function arcSweep(from: Point, { x, y, centreX, centreY, clockwise }: ArcCourse): number {
  const centre = { x: centreX, y: centreY };
  const turn = turnBetween(minus(from, centre), minus({ x, y }, centre));
  const swept = clockwise ? -turn : turn;
  if (swept >= 0) return swept;
  return swept < -Math.PI / 2 ? Math.PI : 0;
}
