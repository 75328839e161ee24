/**
 * Appliqué: a second cloth, cut to the shape of the knot, sewn onto the first. Three blocks with a stop
 * after each: a line that shows where the cloth goes; a run inside its edge that tacks it down, after
 * which it is trimmed; a narrow satin over its edges.
 */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { type ArcChain, chainEnd, polyline } from "../../geometry/arc-chain.ts";
import { offsetChain } from "../../geometry/offset.ts";
import { distance, type Point } from "../../geometry/point.ts";
import { StitchMaker, type StitchRole, type ThreadBlock } from "../../output/stitches.ts";
import type { Shape } from "../../ribbon/ribbon.ts";
import { strandColour } from "../strand-colours.ts";
import type { CornerRule } from "./column-corner.ts";
import { divideLine, runningRule } from "./divide-line.ts";
import { edgeRungs } from "./edge-satin.ts";
import { orderLines } from "./line-order.ts";
import { LineSewer, runningOrder } from "./line-sewer.ts";
import type { AppliqueSettings } from "./settings.ts";

export interface AppliqueCloth {
  /** What is cut from the second cloth: laced bodies, or ribbon pieces one by one. */
  readonly shapes: readonly Shape[];
  /** Lines across the cloth that get a satin too: the edges of over-strands of a laced body. */
  readonly lines: readonly ArcChain[];
}

/** Always three blocks, in sewing order. */
export function appliqueBlocks(cloth: AppliqueCloth, settings: AppliqueSettings): ThreadBlock[] {
  const edges = cloth.shapes.flatMap(({ outline, holes }) => [outline, ...holes]);
  // The cloth lies on the left of its outlines and of its holes alike.
  const inset = edges.flatMap((edge) => offsetChain(edge, settings.tackInsetMm, "pointed"));
  return [
    runBlock("placement line", edges, "mark", settings.runStitchMm, settings),
    runBlock("tack-down", inset, "underlay", settings.tackStitchMm, settings),
    satinBlock(edges, cloth.lines, settings),
  ];
}

const HOME: Point = { x: 0, y: 0 };

function runBlock(
  name: string,
  chains: readonly ArcChain[],
  role: StitchRole,
  stitchMm: number,
  settings: AppliqueSettings,
): ThreadBlock {
  const rule = runningRule(stitchMm, settings);
  const lines = chains.flatMap((chain) => {
    const holes = divideLine(chain, rule);
    return holes.length < 2 ? [] : [polyline(holes, chain.closed)];
  });
  const maker = new StitchMaker();
  const sewer = new LineSewer(maker, settings);
  for (const { vertices, closed } of orderLines(lines, HOME)) sewer.sew(runningOrder(vertices, closed), role);
  sewer.finish();
  return maker.made(threadOf(name, settings));
}

/** So many rungs are sewn twice where a satin comes round: its first holes would open otherwise (common practice, no source). */
const OVERLAP_RUNGS = 2;

/** Closed edges first; then the lines across, whose satin lies over the ends of what they part. */
function satinBlock(
  edges: readonly ArcChain[],
  across: readonly ArcChain[],
  settings: AppliqueSettings,
): ThreadBlock {
  const rule = satinRule(settings);
  const closed = orderLines(edges, HOME);
  const last = closed.at(-1);
  const open = orderLines(across, last ? chainEnd(last) : HOME);
  const maker = new StitchMaker();
  const sewer = new LineSewer(maker, settings);
  for (const chain of [...closed, ...open]) {
    const rungs = edgeRungs(chain, rule);
    const overlap = chain.closed ? rungs.slice(0, OVERLAP_RUNGS) : [];
    const holes = [...rungs, ...overlap].flatMap(({ left, right }) => [left, right]);
    sewer.sew(withoutShort(holes, rule.leastLengthMm), "cover");
  }
  sewer.finish();
  return maker.made(threadOf("edge satin", settings));
}

/**
 * Where two ladders meet at a corner, the last hole of one may lie beside the first of the other: the
 * later one serves both, so that its own line lies where it should.
 */
function withoutShort(holes: readonly Point[], leastMm: number): Point[] {
  const kept: Point[] = [];
  const isFar = (from: Point | undefined, to: Point) =>
    !from || distance(from, to) >= leastMm - SAME_POINT_MM;
  for (const hole of holes) {
    if (isFar(kept.at(-1), hole)) kept.push(hole);
    else if (kept.length > 1 && isFar(kept.at(-2), hole)) kept[kept.length - 1] = hole;
  }
  return kept;
}

function satinRule(settings: AppliqueSettings): CornerRule {
  const widthMm = settings.edgeSatinMm + settings.pullMm;
  return {
    widthMm,
    spacingMm: settings.spacingMm,
    leastHoleSpacingMm: settings.leastHoleSpacingMm,
    lapMm: settings.threadWidthMm / 2,
    leastLengthMm: Math.min(settings.leastStitchMm, widthMm / 2),
  };
}

/** One colour does: what is to be seen of it is the satin. */
function threadOf(name: string, { threadTex, threadWidthMm }: AppliqueSettings) {
  return { name, colour: strandColour(0), tex: threadTex, widthMm: threadWidthMm };
}
