/**
 * Rings and fans: panels bent round a centre (bend.ts), the top row of the text outside, the
 * first column at the top of a ring, the others following clockwise.
 *
 * A ring's left and right ends are glued. Where both its edges run through `+` dots an even
 * number of strands lies side by side; an even number of rows puts one edge through `o` dots,
 * half a cell off, and the number is odd. A hub is a dot in the middle that all cells of the
 * inner edge join on to: one more row of dots, which are all one.
 */
import { done, type Fault, type Result, refused } from "../base/fault.ts";
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import { Bend, type Spacing } from "./bend.ts";
import { bentDiagram, tightestBendMm } from "./bend-panel.ts";
import { type Panel, parsePanel } from "./panel.ts";
import type { CornerStyle } from "./panel-curves.ts";
import { draftRing } from "./panel-draft.ts";

/** A ring of crossings on every site. */
export interface PlainRing {
  /** Cells round the ring. */
  readonly around: number;
  /** Cells across, two strands each; with a half cell more the number of strands is odd. */
  readonly rows: number;
}

export interface RingSpec {
  /** Rows of panel text, whose last column may repeat the first or be left out, or a plain ring. */
  readonly panel: readonly string[] | PlainRing;
  /** Radius of the inner edge. */
  readonly innerMm: number;
  readonly spacing: Spacing;
  /** For equal spacing: mm (more than 0) between neighbouring circles of cell centres. Without it the band is as wide as a conformal one. */
  readonly pitchMm?: number;
  /** Adds one strand inside. The panel's last row is then inside too: its sites are crossings or breaklines. */
  readonly hub: boolean;
}

export interface FanSpec {
  readonly panel: readonly string[];
  /** Radius of the inner edge. */
  readonly innerMm: number;
  readonly angleDeg: number;
  readonly spacing: Spacing;
  /** For equal spacing: mm (more than 0) between neighbouring circles of cell centres. Without it the band is as wide as a conformal one. */
  readonly pitchMm?: number;
}

export interface BendOptions {
  readonly corner: CornerStyle;
  /** When given, every bend must leave room for a ribbon of this width. */
  readonly ribbonWidthMm?: number;
  /** Where the ring stands in the document; faults name its parts "panel", "around", "rows", "inner" and "angle". */
  readonly path?: readonly (string | number)[];
}

type Path = readonly (string | number)[];

/** Fewer repeats than this do not surround a centre. */
const LEAST_REPEATS = 3;
/** Less is a point. */
const LEAST_MM = 0.1;
/** Less is a straight strip. */
const LEAST_DEG = 1;
/** Radii grow in proportion from row to row: a few rows too many pass any size. */
const MOST_MM = 1e5;

/**
 * The diagram of a ring, mm, y up, the centre at 0, 0; over and under are not set: weave it.
 * Every part is the same as its neighbour turned by one repeat.
 */
export function ringDiagram(spec: RingSpec, options: BendOptions): Result<KnotDiagram> {
  const { path = [] } = options;
  const panel = ringPanel(spec, path);
  if (!panel.ok) return panel;
  const steps = { across: panel.value.columns, down: panel.value.rows - 1 };
  const bend = (innerMm: number) =>
    new Bend({ ...spec, innerMm, steps, angleRad: 2 * Math.PI, startRad: Math.PI / 2 });
  return bendWithRoom(panel.value, spec.innerMm, bend, options);
}

/** The panel of a ring, its ends glued: for its diagram, and to show it as text. */
export function ringPanel({ panel, hub }: RingSpec, path: Path = []): Result<Panel> {
  const text = "around" in panel ? plainRows(panel, hub, path) : withHub(panel, hub, [...path, "panel"]);
  if (!text.ok) return text;
  const parsed = parsePanel(text.value, [...path, "panel"], "glued");
  if (!parsed.ok || parsed.value.columns >= 2 * LEAST_REPEATS) return parsed;
  const found = parsed.value.columns / 2;
  return refused({ code: "ring-repeats", path: [...path, "panel"], found, least: LEAST_REPEATS });
}

/**
 * The diagram of a panel bent over an angle about 0, 0, its middle at the top. mm, y up; over
 * and under are not set: weave it.
 */
export function fanDiagram(spec: FanSpec, options: BendOptions): Result<KnotDiagram> {
  const { path = [] } = options;
  const { angleDeg } = spec;
  const panel = parsePanel(spec.panel, [...path, "panel"]);
  if (!panel.ok) return panel;
  if (!(angleDeg >= LEAST_DEG && angleDeg <= 360))
    return refused(
      outOfRange([...path, "angle"], angleDeg, { least: LEAST_DEG, greatest: 360, unit: "degrees" }),
    );
  const steps = { across: panel.value.columns - 1, down: panel.value.rows - 1 };
  const angleRad = (angleDeg * Math.PI) / 180;
  const startRad = (Math.PI + angleRad) / 2;
  const bend = (innerMm: number) => new Bend({ ...spec, innerMm, steps, angleRad, startRad });
  return bendWithRoom(panel.value, spec.innerMm, bend, options);
}

function plainRows({ around, rows }: PlainRing, hub: boolean, path: Path): Result<string[]> {
  const faults: Fault[] = [];
  if (!Number.isInteger(around))
    faults.push({
      code: "wrong-kind",
      path: [...path, "around"],
      found: `${around}`,
      wanted: "a whole number",
    });
  else if (around < LEAST_REPEATS)
    faults.push(outOfRange([...path, "around"], around, { least: LEAST_REPEATS, unit: "" }));
  if (!Number.isInteger(2 * rows))
    faults.push({ code: "wrong-kind", path: [...path, "rows"], found: `${rows}`, wanted: HALVES });
  else if (rows < 1) faults.push(outOfRange([...path, "rows"], rows, { least: 1, unit: "" }));
  return faults.length > 0 ? refused(...faults) : done(draftRing(around, 2 * rows + (hub ? 1 : 0)));
}

const HALVES = "a number of cells, whole or with a half";

/** The text with the hub's row of dots below it. */
function withHub(text: readonly string[], hub: boolean, path: Path): Result<readonly string[]> {
  if (!hub) return done(text);
  const row = text.length - 1;
  const width = Math.max(0, ...text.map((line) => line.trimEnd().length));
  const last = text.at(-1) ?? "";
  for (let placeColumn = row & 1; placeColumn < width - (width & 1); placeColumn += 2) {
    if ((last[placeColumn] ?? " ") === " ")
      return refused({ code: "ring-hub-dot", path, row, placeColumn, wanted: row % 2 === 0 ? "+" : "o" });
  }
  const dots = row % 2 === 0 ? " o" : "+ ";
  return done([...text, dots.repeat(Math.ceil(width / 2)).slice(0, width)]);
}

/** The bent diagram, if it has a size and a ribbon can follow it. */
function bendWithRoom(
  panel: Panel,
  innerMm: number,
  bendTo: (innerMm: number) => Bend,
  { corner, ribbonWidthMm = 0, path = [] }: BendOptions,
): Result<KnotDiagram> {
  const inner = [...path, "inner"];
  if (!(innerMm >= LEAST_MM && innerMm <= MOST_MM))
    return refused(outOfRange(inner, innerMm, { least: LEAST_MM, greatest: MOST_MM, unit: "mm" }));
  const bend = bendTo(innerMm);
  if (!(bend.outerMm <= MOST_MM))
    return refused({ code: "bend-too-large", path: inner, outerMm: bend.outerMm, mostMm: MOST_MM });
  const diagram = bentDiagram(panel, bend, corner);
  const tightest = tightestBendMm(diagram);
  if (tightest > ribbonWidthMm / 2) return done(diagram);
  const radiusAt = (radiusMm: number) => tightestBendMm(bentDiagram(panel, bendTo(radiusMm), corner));
  const leastMm = leastInnerMm({ innerMm, tightest, least: ribbonWidthMm / 2, radiusAt });
  return refused({ code: "bend-too-small", path: inner, innerMm, ...(leastMm !== undefined && { leastMm }) });
}

/** Tries enough to find the least radius; where they are not, larger ones do not help. */
const MOST_TRIES = 10;

/**
 * The inner radius, in whole micrometres, from which bends are wide enough. Bends grow in
 * proportion to it, but for the fit of their arcs, and for a pitch that stays as it is.
 */
function leastInnerMm({
  innerMm,
  tightest,
  least,
  radiusAt,
}: {
  readonly innerMm: number;
  readonly tightest: number;
  readonly least: number;
  readonly radiusAt: (innerMm: number) => number;
}): number | undefined {
  let found = innerMm;
  let radius = tightest;
  for (let i = 0; i < MOST_TRIES; i++) {
    found = Math.ceil(((found * least) / radius) * 1000 + 1) / 1000;
    radius = radiusAt(found);
    if (radius > least) return found;
  }
  return undefined;
}

function outOfRange(
  path: Path,
  found: number,
  range: { readonly least?: number; readonly greatest?: number; readonly unit: string },
): Fault {
  return { code: "number-out-of-range", path, found, ...range };
}
