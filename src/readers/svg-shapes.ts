/** The basic shapes and paths of SVG 1.1 (chapters 8 and 9) -> runs of curves in their own units. */
import { done, type Fault, type Result, refused } from "../base/fault.ts";
import type { Point } from "../geometry/point.ts";
import type { SmoothCurve } from "../geometry/smooth-curve.ts";
import { axisArc, type CurveRun, parsePathData } from "./path-data.ts";
import { parseLength, parseNumbers } from "./svg-numbers.ts";

/** The value of an attribute of the element, undefined where it has none of that name. */
export type Attributes = (name: string) => string | undefined;

/** Elements that draw a centreline. */
const SHAPES: ReadonlyMap<string, (read: ShapeReader) => readonly CurveRun[]> = new Map([
  ["path", pathRuns],
  ["line", lineRuns],
  ["polyline", (read: ShapeReader) => polyRuns(read, false)],
  ["polygon", (read: ShapeReader) => polyRuns(read, true)],
  ["circle", circleRuns],
  ["ellipse", ellipseRuns],
  ["rect", rectRuns],
]);

/**
 * What the element draws, nothing for elements that are no shape.
 *
 * Faults: `svg-attribute`, one for each attribute that cannot be read.
 */
export function shapeRuns(element: string, attributes: Attributes): Result<readonly CurveRun[]> {
  const draw = SHAPES.get(element);
  if (!draw) return done([]);
  const read = new ShapeReader(element, attributes);
  const runs = draw(read);
  return read.faults.length > 0 ? refused(...read.faults) : done(runs);
}

/** Reads attributes; what cannot be read is noted, and stands as if it were not there. */
class ShapeReader {
  readonly faults: Fault[] = [];
  readonly #element: string;
  readonly #attributes: Attributes;

  constructor(element: string, attributes: Attributes) {
    this.#element = element;
    this.#attributes = attributes;
  }

  text(attribute: string): string {
    return this.#attributes(attribute) ?? "";
  }

  refuse(attribute: string, found: string, wanted: string): void {
    this.faults.push({ code: "svg-attribute", element: this.#element, attribute, found, wanted });
  }

  /** px; a size is a length that is not negative. */
  length(attribute: string, kind: "place" | "size" = "place"): number | undefined {
    const text = this.#attributes(attribute);
    if (text === undefined || (kind === "size" && text.trim() === "auto")) return undefined;
    const length = parseLength(text);
    if (length !== undefined && (kind === "place" || length >= 0)) return length;
    this.refuse(attribute, text, kind === "place" ? "a length" : "a length of 0 or more");
    return undefined;
  }

  size(attribute: string): number | undefined {
    return this.length(attribute, "size");
  }

  point(x: string, y: string): Point {
    return { x: this.length(x) ?? 0, y: this.length(y) ?? 0 };
  }
}

function pathRuns(read: ShapeReader): readonly CurveRun[] {
  const data = parsePathData(read.text("d"));
  if (data.ok) return data.runs;
  read.refuse("d", data.rest, "path data");
  return [];
}

function lineRuns(read: ShapeReader): readonly CurveRun[] {
  const from = read.point("x1", "y1");
  const to = read.point("x2", "y2");
  return [{ closed: false, curves: [{ kind: "line", from, to }] }];
}

function polyRuns(read: ShapeReader, closed: boolean): readonly CurveRun[] {
  const numbers = parseNumbers(read.text("points"));
  if (!numbers || numbers.length % 2 !== 0) {
    read.refuse("points", read.text("points"), "a list of x and y in turn");
    return [];
  }
  const points = numbers.flatMap((y, i) => (i % 2 === 1 ? [{ x: numbers[i - 1] ?? 0, y }] : []));
  return [{ closed, curves: linesThrough(points, closed) }];
}

function linesThrough(points: readonly Point[], closed: boolean): SmoothCurve[] {
  return points.flatMap((to, i) => {
    const from = points[i - 1] ?? (closed ? points.at(-1) : undefined);
    return from ? [{ kind: "line", from, to }] : [];
  });
}

function circleRuns(read: ShapeReader): readonly CurveRun[] {
  const radius = read.size("r") ?? 0;
  return roundRun(read.point("cx", "cy"), radius, radius);
}

function ellipseRuns(read: ShapeReader): readonly CurveRun[] {
  const rx = read.size("rx");
  const ry = read.size("ry");
  return roundRun(read.point("cx", "cy"), rx ?? ry ?? 0, ry ?? rx ?? 0);
}

/** A size of 0 draws nothing, by the standard. */
function roundRun(centre: Point, rx: number, ry: number): readonly CurveRun[] {
  if (rx === 0 || ry === 0) return [];
  return [{ closed: true, curves: [axisArc(centre, rx, ry, 0, 2 * Math.PI)] }];
}

/** One corner radius stands for the other; neither is more than half the side (SVG 1.1, 9.2). */
function rectRuns(read: ShapeReader): readonly CurveRun[] {
  const { x, y } = read.point("x", "y");
  const width = read.size("width") ?? 0;
  const height = read.size("height") ?? 0;
  if (width === 0 || height === 0) return [];
  const rx = Math.min(read.size("rx") ?? read.size("ry") ?? 0, width / 2);
  const ry = Math.min(read.size("ry") ?? read.size("rx") ?? 0, height / 2);
  const right = x + width;
  const low = y + height;
  if (rx === 0 || ry === 0) {
    const corners = [
      { x, y },
      { x: right, y },
      { x: right, y: low },
      { x, y: low },
    ];
    return [{ closed: true, curves: linesThrough(corners, true) }];
  }
  const quarter = Math.PI / 2;
  const corners = [
    axisArc({ x: right - rx, y: y + ry }, rx, ry, -quarter, quarter),
    axisArc({ x: right - rx, y: low - ry }, rx, ry, 0, quarter),
    axisArc({ x: x + rx, y: low - ry }, rx, ry, quarter, quarter),
    axisArc({ x: x + rx, y: y + ry }, rx, ry, 2 * quarter, quarter),
  ];
  const curves = corners.flatMap((corner, i): SmoothCurve[] => {
    const before = corners[(i + 3) % 4] ?? corner;
    return [{ kind: "line", from: before.to, to: corner.from }, corner];
  });
  return [{ closed: true, curves }];
}
