/**
 * Outline work: running or back stitch along the edges of the ribbons, their middle, or both, for
 * machine and hand.
 */
import { strandName } from "../../diagram/strands.ts";
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import type { Bounds } from "../../geometry/bounds.ts";
import type { Point } from "../../geometry/point.ts";
import { StitchMaker, type Thread, type ThreadBlock } from "../../output/stitches.ts";
import type { Ribbons } from "../../ribbon/ribbon.ts";
import { strandColour } from "../strand-colours.ts";
import { clothGrid, holesAlong } from "./cloth-grid.ts";
import { colourOf } from "./colour-blocks.ts";
import { divideLine, runningRule } from "./divide-line.ts";
import { orderLines } from "./line-order.ts";
import { backOrder, LineSewer, runningOrder } from "./line-sewer.ts";
import { ribbonLines } from "./ribbon-lines.ts";
import type { OutlineSettings } from "./settings.ts";

export interface OutlineLine {
  readonly strand: number;
  readonly closed: boolean;
  /** Two or more; a closed line does not repeat its first. */
  readonly holes: readonly Point[];
}

/**
 * The lines divided into stitches; from hole to hole of the cloth where the settings name one.
 *
 * @param bounds of the finished piece: cloth is counted from its middle
 */
export function outlineLines(ribbons: Ribbons, settings: OutlineSettings, bounds: Bounds): OutlineLine[] {
  const middle = { x: (bounds.minX + bounds.maxX) / 2, y: (bounds.minY + bounds.maxY) / 2 };
  const grid = clothGrid(settings.clothCount, middle);
  const rule = runningRule(settings.stitchMm, settings);
  return ribbonLines(ribbons, settings.along).flatMap(({ strand, chain }) => {
    const holes = grid ? holesAlong(chain, settings.stitchMm, grid) : divideLine(chain, rule);
    return holes.length < 2 ? [] : [{ strand, closed: chain.closed, holes }];
  });
}

/** One block for each colour that the settings ask for, its lines in an order that keeps the way between them short. */
export function outlineBlocks(lines: readonly OutlineLine[], settings: OutlineSettings): ThreadBlock[] {
  const colours = new Map<number, OutlineLine[]>();
  for (const line of lines) {
    const colour = colourOf(line.strand, settings.colours);
    const own = colours.get(colour);
    if (own) own.push(line);
    else colours.set(colour, [line]);
  }
  const inOrder = [...colours].sort(([a], [b]) => a - b);
  return inOrder.map(([colour, own], i) => {
    const maker = new StitchMaker();
    const chains = own.map(({ holes, closed }) => polyline(holes, closed));
    sewChains(maker, chains, settings);
    return maker.made(threadOf(colour, i + 1, settings));
  });
}

const HOME: Point = { x: 0, y: 0 };

function sewChains(maker: StitchMaker, chains: readonly ArcChain[], settings: OutlineSettings): void {
  const { tieStitchMm, line, clothCount } = settings;
  const sewer = new LineSewer(maker, { tieStitchMm, tieStitches: clothCount > 0 ? 0 : settings.tieStitches });
  for (const { vertices, closed } of orderLines(chains, HOME)) {
    const order = line === "back" ? backOrder : runningOrder;
    sewer.sew(order(vertices, closed), "cover");
  }
  sewer.finish();
}

function threadOf(colour: number, number: number, settings: OutlineSettings): Thread {
  const strand = settings.colours === "strands" ? `, strand ${strandName(colour)}` : "";
  return {
    name: `thread ${number}${strand}`,
    colour: strandColour(colour),
    tex: settings.threadTex,
    widthMm: settings.threadWidthMm,
  };
}
