/** Relief carved by hand: what to set in, what to slope and which way, what to take away. */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import { type ArcChain, chainBounds, polyline } from "../../geometry/arc-chain.ts";
import { growBounds, mergeBounds } from "../../geometry/bounds.ts";
import { grow, insideOf, type Region, regionOf, subtract } from "../../geometry/region.ts";
import { ringChain } from "../../geometry/ring-chain.ts";
import type { Shape } from "../../ribbon/ribbon.ts";
import { REGION_CHORD_MM, REGION_FIT_MM } from "../router/router-panel.ts";
import { type BendClass, bendClasses } from "./bend-classes.ts";
import { checkCarving } from "./carving-checks.ts";
import { grainArrow, grainSample } from "./grain-arrow.ts";
import { hatchRegion } from "./hatch.ts";
import { BOLD, CENTRE, EDGE, FAINT, FINE, FIRM } from "./looks.ts";
import { layKnot, type PaperKnot, type WovenKnot } from "./paper-knot.ts";
import type { CarvingSettings } from "./settings.ts";
import { drawSlope, slopeSample } from "./slope-marks.ts";
import { levelCentrelines, type Slope, slopesOf } from "./slopes.ts";
import { lineGroup, lineItem, type Template, type TemplateTable } from "./template.ts";

/** Far from the directions in which strands of a lattice run, so that no ribbon is taken for hatching. */
const HATCH_RAD = Math.PI / 9;
const HATCH_SPACING_MM = 2.5;

export interface CarvingJob {
  readonly knot: PaperKnot;
  /** All that is cut down to the ground. */
  readonly ground: Region;
  readonly slopes: readonly Slope[];
  readonly bends: readonly BendClass[];
  readonly checks: readonly CheckResult[];
}

export function carvingJob(woven: WovenKnot, settings: CarvingSettings): CarvingJob {
  const { ribbon, frameMm, slopeWidths, chordErrorMm } = settings;
  const knot = layKnot(woven, settings);
  const panel = insideOf(knot.outline, REGION_CHORD_MM);
  const field = frameMm > 0 ? grow(panel, -frameMm, REGION_CHORD_MM) : panel;
  const ground = subtract(field, regionOf(knot.laced.bodies.flatMap(edgesOf), REGION_CHORD_MM));
  const slopes = slopesOf(knot.diagram, ribbon.widthMm, slopeWidths * ribbon.widthMm);
  return {
    knot,
    ground,
    slopes,
    bends: bendClasses(knot.diagram, ribbon.widthMm, chordErrorMm),
    checks: checkCarving({ knot, slopes }, settings),
  };
}

export function carvingTemplate(title: string, job: CarvingJob, settings: CarvingSettings): Template {
  const { knot, ground, slopes } = job;
  const { bodies } = knot.laced;
  const marks = slopes.map((slope) => drawSlope(slope, settings.ribbon.widthMm));
  const frame = frameEdge(job, settings);
  const grain = grainArrow(knot.size, settings.grain);
  const hatching = hatchRegion(ground, { spacingMm: HATCH_SPACING_MM, turnRad: HATCH_RAD });
  const hatchSample = [0, 1, 2, 3, 4].map((i) =>
    polyline(
      [
        { x: 2.8 * i, y: 0 },
        { x: 2.8 * i + 2.8, y: 5 },
      ],
      false,
    ),
  );
  return {
    title,
    description: `Template for carving in relief, ${formatMm(knot.size.width)} wide and ${formatMm(knot.size.height)} high.`,
    size: knot.size,
    bounds: growBounds(mergeBounds([chainBounds(knot.outline), grain.bounds]), EDGE.widthMm),
    groups: [
      {
        name: "ground",
        purpose: `take down to the ground, ${formatMm(settings.groundDepthMm)} deep`,
        items: [lineItem(hatching, FAINT)],
        sample: [lineItem(hatchSample, FAINT)],
      },
      {
        name: "slopes",
        purpose: "slope down as the arrow points, lowest where lines crowd",
        items:
          marks.length > 0
            ? [
                lineItem(
                  marks.flatMap(({ rungs }) => rungs),
                  FINE,
                ),
                arrows(marks.flatMap(({ heads }) => heads)),
              ]
            : [],
        sample: slopeSample(),
      },
      lineGroup(
        "centre-lines",
        "middle of the ribbon, its highest line",
        levelCentrelines(knot.diagram, slopes),
        CENTRE,
      ),
      lineGroup(
        "walls",
        `wall down to the ground, leaning outward by ${formatNumber(settings.wallLeanDeg, 1)}°`,
        [...bodies.flatMap(edgesOf), ...frame],
        FIRM,
      ),
      lineGroup(
        "stop-cuts",
        `stop cut along the strand that lies over, ${formatMm(underDepth(settings))} deep`,
        bodies.flatMap(({ crossingLines }) => crossingLines),
        BOLD,
      ),
      lineGroup("edge", "edge of the panel", [knot.outline], EDGE),
      {
        name: "grain",
        purpose: "the grain runs this way",
        items: grain.items,
        sample: grainSample(),
      },
    ],
    notes: carvingNotes(settings),
    tables: [bendTable(job.bends, settings)],
  };
}

/** How deep the slope of an under-strand ends below the face. */
export function underDepth({ groundDepthMm, underShare }: CarvingSettings): number {
  return groundDepthMm * (1 - underShare);
}

function edgesOf({ outline, holes }: Shape): ArcChain[] {
  return [outline, ...holes];
}

function arrows(heads: readonly ArcChain[]) {
  return { kind: "area", chains: heads, fill: FINE.colour } as const;
}

/** The inner edge of the standing border. */
function frameEdge({ knot }: CarvingJob, { frameMm }: CarvingSettings): ArcChain[] {
  if (frameMm <= 0) return [];
  const field = grow(insideOf(knot.outline, REGION_CHORD_MM), -frameMm, REGION_CHORD_MM);
  return field.rings.map((ring) => ringChain(ring, REGION_FIT_MM));
}

function carvingNotes(settings: CarvingSettings): string[] {
  const { groundDepthMm, stockThicknessMm, underShare, wallLeanDeg } = settings;
  const foot = groundDepthMm * Math.tan((wallLeanDeg * Math.PI) / 180);
  return [
    `Ground ${formatMm(groundDepthMm)} below the face; ${formatMm(stockThicknessMm - groundDepthMm)} of the board stay below it.`,
    `At a crossing the under-strand falls to ${formatNumber(100 * underShare, 0)} % of its height: ${formatMm(underDepth(settings))} below the face, ${formatMm(groundDepthMm * underShare)} above the ground.`,
    `Walls lean outward: at the ground their foot stands ${formatMm(foot)} outside the line. Never undercut.`,
    "Make a stop cut before every wall and slope, then cut towards it from the low side.",
  ];
}

function bendTable(bends: readonly BendClass[], { chordErrorMm }: CarvingSettings): TemplateTable {
  return {
    title: "Bends of the ribbon's edges",
    columns: [
      "edge",
      "radius",
      "bends",
      "gouge of this sweep, at most",
      `straight edge, at most (off by ${formatMm(chordErrorMm)})`,
    ],
    rows: bends.map((bend) => [
      bend.side === "hollow" ? "inside of the bend" : "outside of the bend",
      radiusText(bend),
      `${bend.count}`,
      formatMm(bend.gougeMm),
      formatMm(bend.straightMm),
    ]),
  };
}

function radiusText({ leastRadiusMm, greatestRadiusMm }: BendClass): string {
  const [least, greatest] = [leastRadiusMm, greatestRadiusMm].map((radius) => formatNumber(radius, 1));
  return least === greatest ? `${least} mm` : `${least} to ${greatest} mm`;
}
