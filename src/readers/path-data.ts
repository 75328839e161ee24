/** Path data (SVG 1.1, section 8.3) -> curves in the units of the path, y down as it is written. */
import SvgPath from "svgpath";
import { type Point, turnBetween } from "../geometry/point.ts";
import type { EllipticalArc, SmoothCurve } from "../geometry/smooth-curve.ts";

/** Curves one after another, each beginning where the one before ended. */
export interface CurveRun {
  readonly closed: boolean;
  readonly curves: readonly SmoothCurve[];
}

export type PathData =
  | { readonly ok: true; readonly runs: readonly CurveRun[] }
  /** Where the data is wrong: the text from there on. */
  | { readonly ok: false; readonly rest: string };

/**
 * The subpaths that draw something. The standard has a renderer draw path data up to the first
 * error; a strand cut off there would be a different knot, so the whole is refused.
 */
export function parsePathData(text: string): PathData {
  const path = new SvgPath(text);
  const trouble = troubleOf(path, text);
  if (trouble !== undefined) return { ok: false, rest: trouble };
  const runs: CurveRun[] = [];
  let curves: SmoothCurve[] = [];
  let start: Point = { x: 0, y: 0 };
  const finish = (closed: boolean) => {
    if (curves.length > 0) runs.push({ closed, curves });
    curves = [];
  };
  path
    .abs()
    .unshort()
    .iterate((segment, _, x, y) => {
      const from = { x, y };
      switch (segment[0]) {
        case "M":
          finish(false);
          start = { x: segment[1], y: segment[2] };
          break;
        case "L":
          curves.push({ kind: "line", from, to: { x: segment[1], y: segment[2] } });
          break;
        case "H":
          curves.push({ kind: "line", from, to: { x: segment[1], y } });
          break;
        case "V":
          curves.push({ kind: "line", from, to: { x, y: segment[1] } });
          break;
        case "Q": {
          const [, cx, cy, toX, toY] = segment;
          curves.push({ kind: "quadratic", from, control: { x: cx, y: cy }, to: { x: toX, y: toY } });
          break;
        }
        case "C": {
          const [, x1, y1, x2, y2, toX, toY] = segment;
          const controls = { control1: { x: x1, y: y1 }, control2: { x: x2, y: y2 } };
          curves.push({ kind: "cubic", from, ...controls, to: { x: toX, y: toY } });
          break;
        }
        case "A": {
          const [, rx, ry, turnDeg, large, sweep, toX, toY] = segment;
          // The library may hand a flag on as text.
          const flags = { large: Number(large) === 1, sweep: Number(sweep) === 1 };
          curves.push(arcTo(from, { x: toX, y: toY }, { rx, ry, turnDeg, ...flags }));
          break;
        }
        case "Z":
        case "z":
          if (x !== start.x || y !== start.y) curves.push({ kind: "line", from, to: start });
          finish(true);
          break;
      }
    });
  finish(false);
  return { ok: true, runs };
}

/** The text from the first error on; undefined where there is none. */
function troubleOf(path: object, text: string): string | undefined {
  // The library keeps the part before an error, and the error in a field that its types do not name.
  const error: unknown = Reflect.get(path, "err");
  if (typeof error === "string" && error !== "") {
    const at = /\(at pos (\d+)\)/.exec(error)?.[1];
    return text.slice(Number(at ?? 0));
  }
  // It knows one command that the standard does not.
  const strange = text.search(/r/i);
  return strange < 0 ? undefined : text.slice(strange);
}

interface ArcShape {
  readonly rx: number;
  readonly ry: number;
  readonly turnDeg: number;
  /** Whether the arc is the longer one, and whether its angles grow. */
  readonly large: boolean;
  readonly sweep: boolean;
}

/** From the ends of an elliptical arc to its centre (SVG 1.1, implementation notes F.6.5 and F.6.6). */
function arcTo(from: Point, to: Point, shape: ArcShape): SmoothCurve {
  const turn = (shape.turnDeg / 180) * Math.PI;
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  const halfX = (from.x - to.x) / 2;
  const halfY = (from.y - to.y) / 2;
  const rx0 = Math.abs(shape.rx);
  const ry0 = Math.abs(shape.ry);
  if (rx0 === 0 || ry0 === 0 || (halfX === 0 && halfY === 0)) return { kind: "line", from, to };
  // Half the chord, seen with the ellipse as the unit circle; radii too small to reach grow.
  const seen = { x: (cos * halfX + sin * halfY) / rx0, y: (cos * halfY - sin * halfX) / ry0 };
  const grow = Math.max(1, Math.hypot(seen.x, seen.y));
  const chord = { x: seen.x / grow, y: seen.y / grow };
  const squared = chord.x * chord.x + chord.y * chord.y;
  const lift = Math.sqrt(Math.max(0, 1 / squared - 1)) * (shape.large === shape.sweep ? -1 : 1);
  const centre = { x: lift * chord.y, y: -lift * chord.x };
  const begin = { x: chord.x - centre.x, y: chord.y - centre.y };
  const end = { x: -chord.x - centre.x, y: -chord.y - centre.y };
  const least = turnBetween(begin, end);
  const swept = shape.sweep
    ? least < 0
      ? least + 2 * Math.PI
      : least
    : least > 0
      ? least - 2 * Math.PI
      : least;
  const u = { x: cos * rx0 * grow, y: sin * rx0 * grow };
  const v = { x: -sin * ry0 * grow, y: cos * ry0 * grow };
  return {
    kind: "ellipse",
    from,
    to,
    centre: {
      x: (from.x + to.x) / 2 + centre.x * u.x + centre.y * v.x,
      y: (from.y + to.y) / 2 + centre.x * u.y + centre.y * v.y,
    },
    u,
    v,
    startAngle: Math.atan2(begin.y, begin.x),
    sweep: swept,
  };
}

/** A part of an ellipse with its axes along x and y, from one angle to another, radians. */
export function axisArc(
  centre: Point,
  rx: number,
  ry: number,
  startAngle: number,
  sweep: number,
): EllipticalArc {
  const at = (angle: number): Point => ({
    x: centre.x + rx * Math.cos(angle),
    y: centre.y + ry * Math.sin(angle),
  });
  return {
    kind: "ellipse",
    from: at(startAngle),
    to: at(startAngle + sweep),
    centre,
    u: { x: rx, y: 0 },
    v: { x: 0, y: ry },
    startAngle,
    sweep,
  };
}
