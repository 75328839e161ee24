/**
 * A cut through the carved panel, seen from its lower or its right edge: what stands, hatched as
 * workshop drawings hatch what is cut (ISO 128-3, thin lines at 45 degrees), with the depths that matter.
 * Heights are small beside the panel's length, so they are drawn larger, and the picture says so.
 */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import { crossingCount, type KnotDiagram } from "../../diagram/knot-diagram.ts";
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import type { Point } from "../../geometry/point.ts";
import type { HeightField } from "../../output/height-field.ts";
import type { Picture, PictureItem } from "../../output/picture.ts";

/** "across": from left to right at a height y; "up": from bottom to top at an x. */
export interface SectionLine {
  readonly axis: "across" | "up";
  readonly atMm: number;
}

export interface SectionSettings {
  readonly stockThicknessMm: number;
  readonly keepBelowMm: number;
}

const WOOD = "#ecd5ad";
const EDGE = "#3b2a1a";
const HATCH = "#b08d5c";
const KEEP = "#1d3f72";

/** How many times larger heights may be drawn; the first that makes the stock a fair share of the length. */
const ENLARGEMENTS = [1, 2, 5, 10];
const FAIR_SHARE = 1 / 6;
/** Shares of the section's length. */
const HATCH_SHARE = 1 / 110;
const THIN_SHARE = 1 / 1600;
const THICK_SHARE = 1 / 500;
const ASIDE_SHARE = 1 / 22;

/** The line near which most crossings lie, within a band of the ribbon's width; of equal ones the nearest to the panel's middle. */
export function busiestLine(
  diagram: KnotDiagram,
  size: { readonly width: number; readonly height: number },
  bandMm: number,
): SectionLine {
  const across = busiestBand(diagram.y, bandMm, size.height / 2);
  const up = busiestBand(diagram.x, bandMm, size.width / 2);
  return up.count > across.count
    ? { axis: "up", atMm: up.atMm }
    : { axis: "across", atMm: crossingCount(diagram) > 0 ? across.atMm : size.height / 2 };
}

function busiestBand(places: Float64Array, bandMm: number, middle: number): { count: number; atMm: number } {
  const sorted = Float64Array.from(places).sort();
  let best = { count: 0, atMm: middle };
  let sum = 0;
  for (let first = 0, end = 0; first < sorted.length; first++) {
    while (end < sorted.length && (sorted[end] ?? 0) - (sorted[first] ?? 0) <= bandMm)
      sum += sorted[end++] ?? 0;
    const count = end - first;
    const atMm = sum / count;
    const nearer = Math.abs(atMm - middle) < Math.abs(best.atMm - middle);
    if (count > best.count || (count === best.count && nearer)) best = { count, atMm };
    sum -= sorted[first] ?? 0;
  }
  return best;
}

/** The section of a carved field along a line, with thickness, deepest cut and what is kept below. */
export function sectionPicture(field: HeightField, line: SectionLine, settings: SectionSettings): Picture {
  const { stockThicknessMm: thickness, keepBelowMm } = settings;
  const profile = profileAlong(field, line);
  const length = profile.length * field.stepMm;
  const times = ENLARGEMENTS.find((by) => by * thickness >= FAIR_SHARE * length) ?? 10;
  const lowest = profile.reduce((least, z) => (z > -thickness ? Math.min(least, z) : least), 0);
  const lowestAt = (profile.indexOf(lowest) + 0.5) * field.stepMm;
  const where = `${line.axis === "across" ? "From left to right at y" : "From bottom to top at x"} = ${formatMm(line.atMm)}`;
  const scale =
    times === 1 ? "heights to the same scale" : `heights drawn ${formatNumber(times, 0)} times as large`;
  const depths = `stock ${formatMm(thickness)}, deepest cut ${formatMm(-lowest)}, ${formatMm(keepBelowMm)} kept below the lower dashed line`;
  const captions = [`${where}; ${scale}`, depths].map((text, i): PictureItem => {
    const y = -times * thickness - (1 + 0.8 * i) * ASIDE_SHARE * length;
    return { kind: "label", at: { x: 0, y }, text };
  });
  return {
    title: "Section through the carved panel",
    description: `${where}, ${scale}: ${depths}. The deepest place that is not cut through lies at ${formatMm(lowestAt)}.`,
    bounds: { minX: 0, maxX: length, minY: -times * thickness, maxY: 0 },
    items: [
      ...standingItems(solidsOf(profile, field.stepMm, thickness, times), length),
      ...depthItems(settings, { lowest, lowestAt, length, times }),
      ...captions,
    ],
  };
}

function standingItems(solids: readonly (readonly Point[])[], length: number): PictureItem[] {
  const standing = solids.map((points) => polyline(points, true));
  const hatch = hatching(solids, HATCH_SHARE * length);
  return [
    { kind: "area", chains: standing, fill: WOOD, name: "stock" },
    { kind: "line", chains: hatch, colour: HATCH, widthMm: THIN_SHARE * length },
    { kind: "line", chains: standing, colour: EDGE, widthMm: THICK_SHARE * length },
  ];
}

interface Depths {
  readonly lowest: number;
  readonly lowestAt: number;
  readonly length: number;
  readonly times: number;
}

/** Thickness on the left; deepest cut and what is kept on the right, each with its level as a dashed line. */
function depthItems(
  { stockThicknessMm, keepBelowMm }: SectionSettings,
  { lowest, lowestAt, length, times }: Depths,
): PictureItem[] {
  const aside = ASIDE_SHARE * length;
  const at = (x: number, z: number): Point => ({ x, y: times * z });
  const level = (z: number, from: number, colour: string): PictureItem => ({
    kind: "line",
    chains: [polyline([at(from, z), at(length, z)], false)],
    colour,
    widthMm: THIN_SHARE * length,
    dashed: true,
  });
  const keep = keepBelowMm - stockThicknessMm;
  const items = [
    level(0, 0, EDGE),
    level(keep, 0, KEEP),
    dimension(at(0, -stockThicknessMm), at(0, 0), aside, formatMm(stockThicknessMm)),
    dimension(at(length, keep), at(length, -stockThicknessMm), aside, formatMm(keepBelowMm)),
  ];
  if (lowest === 0) return items;
  return [
    ...items,
    level(lowest, lowestAt, EDGE),
    dimension(at(length, 0), at(length, lowest), 2.6 * aside, formatMm(-lowest)),
  ];
}

function dimension(from: Point, to: Point, asideMm: number, text: string): PictureItem {
  return { kind: "dimension", from, to, asideMm, text };
}

/** The heights of the pixels that the line runs through. */
function profileAlong(
  { columns, rows, stepMm, minX, minY, z }: HeightField,
  { axis, atMm }: SectionLine,
): Float32Array {
  const nearest = (from: number, count: number) =>
    Math.min(Math.max(Math.floor((atMm - from) / stepMm), 0), count - 1);
  if (axis === "across") {
    const row = nearest(minY, rows);
    return z.slice(row * columns, (row + 1) * columns);
  }
  const column = nearest(minX, columns);
  return Float32Array.from({ length: rows }, (_, row) => z[row * columns + column] ?? 0);
}

/** Outlines of what stands, counter-clockwise, one for each stretch between cuts that go through. */
function solidsOf(profile: Float32Array, stepMm: number, thickness: number, times: number): Point[][] {
  const solids: Point[][] = [];
  for (let first = 0; first < profile.length; ) {
    let end = first;
    while (end < profile.length && (profile[end] ?? 0) > -thickness) end++;
    if (end > first) {
      const heights = Array.from(profile.subarray(first, end), (z, i) => ({
        x: (first + i + 0.5) * stepMm,
        y: times * z,
      }));
      const [left, right] = [first * stepMm, end * stepMm];
      const top = [{ x: left, y: heights[0]?.y ?? 0 }, ...heights, { x: right, y: heights.at(-1)?.y ?? 0 }];
      solids.push([
        { x: left, y: -times * thickness },
        { x: right, y: -times * thickness },
        ...withoutLevels(top).reverse(),
      ]);
    }
    first = Math.max(end, first + 1);
  }
  return solids;
}

/** Points between two of the same height say nothing. */
function withoutLevels(points: readonly Point[]): Point[] {
  return points.filter((point, i) => point.y !== points[i - 1]?.y || point.y !== points[i + 1]?.y);
}

/** Lines at 45 degrees, `apartMm` from each other along the section, within the outlines. */
function hatching(outlines: readonly (readonly Point[])[], apartMm: number): ArcChain[] {
  return outlines.flatMap((outline) => {
    const meets = new Map<number, Point[]>();
    outline.forEach((a, i) => {
      const b = outline[(i + 1) % outline.length] ?? a;
      const [from, to] = [(a.x - a.y) / apartMm, (b.x - b.y) / apartMm];
      // Half open, so that a line through a corner meets one of its two sides.
      for (let k = Math.ceil(Math.min(from, to)); k < Math.max(from, to); k++) {
        const share = (k - from) / (to - from);
        const point = { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) };
        meets.set(k, [...(meets.get(k) ?? []), point]);
      }
    });
    return [...meets.values()].flatMap((points) => {
      const sorted = points.sort((a, b) => a.x - b.x);
      return sorted.flatMap((from, i) => {
        const to = sorted[i + 1];
        return i % 2 === 0 && to ? [polyline([from, to], false)] : [];
      });
    });
  });
}
