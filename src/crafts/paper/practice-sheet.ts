/**
 * How a lattice becomes a knot, in small stages: dots and breaklines; crossings; straight runs;
 * bends; corners; the weave. Each stage is a drawing of its own in which what is new stands out.
 */
import { formatNumber } from "../../base/format-number.ts";
import { edgeCurve, type KnotDiagram, twin } from "../../diagram/knot-diagram.ts";
import type { Strands } from "../../diagram/strands.ts";
import { type ArcChain, chainLength, chainPart, segmentsOf } from "../../geometry/arc-chain.ts";
import type { Bounds } from "../../geometry/bounds.ts";
import { growBounds } from "../../geometry/bounds.ts";
import { turnBetween } from "../../geometry/point.ts";
import { arcOf, endDirection, startDirection } from "../../geometry/segment.ts";
import type { PaperItem } from "../../output/paper.ts";
import { laceRibbons } from "../../ribbon/laced.ts";
import { makeRibbons } from "../../ribbon/ribbon.ts";
import { type DotPitch, dotPaper, latticeMarks, type RingPaper, type SquarePaper } from "./dot-lattice.ts";
import type { WovenKnot } from "./paper-knot.ts";
import { ribbonLines } from "./ribbon-lines.ts";
import { type LineLook, lineItem } from "./template.ts";

/** A small drawing with its caption, in mm of its own: the lattice's lower left place at the origin. */
export interface StageDrawing {
  readonly name: string;
  readonly title: string;
  readonly caption: string;
  readonly bounds: Bounds;
  readonly items: readonly PaperItem[];
}

/** A design of one panel: its text, and what was drawn of it. */
export interface PracticePanel extends WovenKnot {
  readonly rows: readonly string[];
  readonly pitchMm: DotPitch;
}

const DOTS: LineLook = { colour: "#000000", widthMm: 0.2 };
const BREAKS: LineLook = { colour: "#000000", widthMm: 0.8, roundEnds: true };
const BREAKS_DONE: LineLook = { colour: "#a8a8a8", widthMm: 0.6, roundEnds: true };
const NEW: LineLook = { colour: "#000000", widthMm: 0.8, roundEnds: true };
const DONE: LineLook = { colour: "#8a8a8a", widthMm: 0.4, roundEnds: true };
const EDGES: LineLook = { colour: "#000000", widthMm: 0.4, roundEnds: true };

/** Shares of the smaller pitch: half a crossing's stroke, the ribbon, its gap. */
const STROKE_SHARE = 0.2;
const RIBBON_SHARE = 0.28;
const GAP_SHARE = 0.05;

/** The lattice alone, to be solved. */
export function latticeDrawing({ rows, pitchMm }: Pick<PracticePanel, "rows" | "pitchMm">): StageDrawing {
  return {
    name: "lattice",
    title: "Lattice",
    caption: "The dots and the lines that no strand may cross.",
    bounds: latticeBounds(rows, pitchMm),
    items: latticeItems(rows, pitchMm, BREAKS),
  };
}

/** All stages in order, the lattice first and the weave last. */
export function practiceStages(panel: PracticePanel): StageDrawing[] {
  const { rows, pitchMm, diagram } = panel;
  const lines = stageLines(diagram, Math.min(pitchMm.across, pitchMm.down));
  const ground = latticeItems(rows, pitchMm, BREAKS_DONE);
  const bounds = latticeBounds(rows, pitchMm);
  const steps = [
    {
      name: "crossings",
      title: "Crossings",
      caption: "Wherever no line stands between four dots, two short strokes cross.",
      fresh: lines.crossings,
    },
    {
      name: "runs",
      title: "Straight runs",
      caption: "Strokes that point at each other are joined.",
      fresh: lines.runs,
    },
    {
      name: "bends",
      title: "Bends",
      caption: "A stroke that runs towards a line turns, keeps beside it and turns away again.",
      fresh: lines.bends,
    },
    {
      name: "corners",
      title: "Corners",
      caption: "Where two lines meet, the strand follows the first, turns, and follows the second.",
      fresh: lines.corners,
    },
  ];
  let done: readonly ArcChain[] = [];
  const stages: StageDrawing[] = [latticeDrawing(panel)];
  for (const { fresh, ...words } of steps) {
    stages.push({ ...words, bounds, items: [...ground, ...linesOf(done, DONE), ...linesOf(fresh, NEW)] });
    done = [...done, ...fresh];
  }
  return [...stages, weaveStage(panel)];
}

function weaveStage(panel: PracticePanel): StageDrawing {
  const { rows, pitchMm, diagram, faces } = panel;
  const least = Math.min(pitchMm.across, pitchMm.down);
  const laced = laceRibbons(diagram, faces, RIBBON_SHARE * least);
  return {
    name: "weave",
    title: "Weave",
    caption: "Draw an edge on both sides of the line; along a strand it goes over and under in turn.",
    bounds: latticeBounds(rows, pitchMm),
    items: linesOf(ribbonLines(laced, GAP_SHARE * least), EDGES),
  };
}

/** The finished knot, each strand in a grey of its own, and what there is to count. */
export function answerDrawing(panel: PracticePanel): StageDrawing {
  const { rows, pitchMm, diagram, strands } = panel;
  const least = Math.min(pitchMm.across, pitchMm.down);
  const { pieces } = makeRibbons(diagram, strands, {
    widthMm: RIBBON_SHARE * least,
    gapMm: GAP_SHARE * least,
  });
  const items = pieces.map(
    ({ outline, holes, strand }): PaperItem => ({
      kind: "area",
      chains: [outline, ...holes],
      fill: strandGrey(strand, strands),
      edge: EDGES,
    }),
  );
  return {
    name: "answer",
    title: "Answer",
    caption: `${counted(strands.count, "strand")}, ${counted(diagram.x.length, "crossing")}.`,
    bounds: latticeBounds(rows, pitchMm),
    items,
  };
}

/** Empty dots to draw one's own on. */
export function dotPaperItems(paper: SquarePaper | RingPaper): PaperItem[] {
  const { discs, crosses } = dotPaper(paper);
  return dotItems(discs, crosses);
}

function counted(count: number, what: string): string {
  return `${formatNumber(count, 0)} ${what}${count === 1 ? "" : "s"}`;
}

/** From white to dark grey, evenly, so that neighbours in number differ as much as can be. */
function strandGrey(strand: number, { count }: Strands): string {
  const LIGHTEST = 255;
  const DARKEST = 110;
  const value = count === 1 ? LIGHTEST : Math.round(LIGHTEST - ((LIGHTEST - DARKEST) * strand) / (count - 1));
  const hex = value.toString(16).padStart(2, "0");
  return `#${hex}${hex}${hex}`;
}

function latticeBounds(rows: readonly string[], pitch: DotPitch): Bounds {
  const columns = Math.max(...rows.map((row) => row.length));
  const box = {
    minX: 0,
    minY: 0,
    maxX: ((columns - 1) * pitch.across) / 2,
    maxY: ((rows.length - 1) * pitch.down) / 2,
  };
  // The dots on the edge, and its breaklines.
  return growBounds(box, Math.min(pitch.across, pitch.down) / 10);
}

function latticeItems(rows: readonly string[], pitch: DotPitch, breaks: LineLook): PaperItem[] {
  const { discs, crosses, breaklines } = latticeMarks(rows, pitch);
  return [...dotItems(discs, crosses), ...linesOf(breaklines, breaks)];
}

function dotItems(discs: readonly ArcChain[], crosses: readonly ArcChain[]): PaperItem[] {
  return [{ kind: "area", chains: discs, fill: DOTS.colour }, ...linesOf(crosses, DOTS)];
}

function linesOf(chains: readonly ArcChain[], look: LineLook): PaperItem[] {
  return chains.length > 0 ? [lineItem(chains, look)] : [];
}

interface StageLines {
  readonly crossings: readonly ArcChain[];
  readonly runs: readonly ArcChain[];
  readonly bends: readonly ArcChain[];
  readonly corners: readonly ArcChain[];
}

/** Centrelines sorted by the stage in which they are drawn; strokes at crossings are left out of the rest. */
function stageLines(diagram: KnotDiagram, pitchMm: number): StageLines {
  const stroke = STROKE_SHARE * pitchMm;
  const lines = { crossings: [], runs: [], bends: [], corners: [] } satisfies Record<
    keyof StageLines,
    ArcChain[]
  >;
  const sorted: Record<keyof StageLines, ArcChain[]> = lines;
  for (let half = 0; half < diagram.twin.length; half++) {
    if (half > twin(diagram, half)) continue;
    const curve = edgeCurve(diagram, half);
    const length = chainLength(curve);
    const near = Math.min(stroke, length / 2);
    sorted.crossings.push(chainPart(curve, 0, near), chainPart(curve, length - near, length));
    if (length > 2 * near) sorted[stageOf(curve)].push(chainPart(curve, near, length - near));
  }
  sorted.corners.push(...diagram.loops);
  return sorted;
}

/** From here on (radians) a turn is a corner: lanes meet at a right angle, lanes and diagonals at half of it. */
const CORNER_RAD = Math.PI / 3;

function stageOf(curve: ArcChain): "runs" | "bends" | "corners" {
  const segments = segmentsOf(curve);
  const turns = segments.flatMap((segment, i) => {
    const before = segments[i - 1];
    const sharp = before ? Math.abs(turnBetween(endDirection(before), startDirection(segment))) : 0;
    return [sharp, segment.bulge === 0 ? 0 : Math.abs(arcOf(segment).sweep)];
  });
  const most = Math.max(0, ...turns);
  if (most >= CORNER_RAD) return "corners";
  return segments.length > 1 || most > 0 ? "bends" : "runs";
}
