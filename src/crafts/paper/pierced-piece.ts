/**
 * A pierced piece: what stays standing, what of it would fall out, the bridges that hold it, and
 * the openings that are left to cut.
 */
import { CHORD_ERROR_MM } from "../../base/tolerance.ts";
import type { ArcChain } from "../../geometry/arc-chain.ts";
import { chordPoints } from "../../geometry/chords.ts";
import type { Point } from "../../geometry/point.ts";
import {
  grow,
  insideOf,
  partsOf,
  type Region,
  type Ring,
  regionArea,
  regionHolds,
  regionOf,
  ringArea,
  subtract,
  unite,
} from "../../geometry/region.ts";
import { ringChain } from "../../geometry/ring-chain.ts";
import type { Shape } from "../../ribbon/ribbon.ts";
import { REGION_CHORD_MM, REGION_FIT_MM, ribbonChains } from "../router/router-panel.ts";
import { type Bridge, bridgeParts, type SeparatePart } from "./bridges.ts";
import type { PaperKnot } from "./paper-knot.ts";
import type { PiercedSettings } from "./settings.ts";
import { symmetriesOf } from "./symmetry.ts";

export interface PiercedPiece {
  /** What would come apart without bridges, the part that holds all others first. */
  readonly parts: readonly SeparatePart[];
  readonly bridges: readonly Bridge[];
  /** How many turns and mirrors bring the piece onto itself, itself included. */
  readonly symmetries: number;
  /** What stays, bridges included. */
  readonly whole: Region;
  /** How many parts it still is: 1. */
  readonly left: number;
  readonly edges: readonly ArcChain[];
  readonly openings: readonly Opening[];
}

export interface Opening {
  readonly edge: ArcChain;
  /** The middle of its widest place, or of one wide enough, for the start hole, and the disc there, mm. */
  readonly widest: Point;
  readonly discMm: number;
}

export function piercePanel(knot: PaperKnot, settings: PiercedSettings): PiercedPiece {
  const { bridgeWidthMm: widthMm, ribbon } = settings;
  const standing = standingRegion(knot, settings);
  const parts = separateParts(standing);
  const symmetries = symmetriesOf(standing);
  const bridges = bridgeParts(parts, {
    widthMm,
    reachMm: ribbon.widthMm,
    ...(settings.symmetric && { symmetries }),
  });
  const whole =
    bridges.length === 0
      ? standing
      : unite(
          standing,
          regionOf(
            bridges.map(({ outline }) => outline),
            REGION_CHORD_MM,
          ),
        );
  const outer = whole.rings.filter((ring) => ringArea(ring) > 0);
  const holes = whole.rings.filter((ring) => ringArea(ring) < 0);
  return {
    parts,
    bridges,
    symmetries: symmetries.length,
    whole,
    left: partsOf(whole).length,
    // A panel's own edge is better known than its chords.
    edges: isPanel(settings) ? [knot.outline] : outer.map((ring) => ringChain(ring, REGION_FIT_MM)),
    openings: holes.map((hole) => openingOf(hole, settings.startHoleMm)),
  };
}

/** Whether the piece keeps the panel's edge: not where the knot itself is the piece. */
function isPanel({ pierce, frameMm }: PiercedSettings): boolean {
  return pierce === "ribbon" || frameMm > 0;
}

function standingRegion(knot: PaperKnot, settings: PiercedSettings): Region {
  const { pierce, crossings, frameMm } = settings;
  const ribbonEdges =
    crossings === "joined" ? knot.laced.bodies.flatMap(edgesOf) : ribbonChains(knot.ribbons);
  const ribbons = regionOf(ribbonEdges, REGION_CHORD_MM);
  const panel = insideOf(knot.outline, REGION_CHORD_MM);
  if (pierce === "ribbon") return subtract(panel, ribbons);
  if (frameMm <= 0) return ribbons;
  return unite(subtract(panel, grow(panel, -frameMm, REGION_CHORD_MM)), ribbons);
}

function edgesOf({ outline, holes }: Shape): ArcChain[] {
  return [outline, ...holes];
}

/** The one that reaches round most comes first: the frame, the ground outside, or the largest body. */
function separateParts(standing: Region): SeparatePart[] {
  const parts = partsOf(standing);
  const reach = ({ rings }: Region) => ringArea(rings[0] ?? []);
  const anchor = parts.reduce(
    (most, part) => (reach(part) > reach(most) ? part : most),
    parts[0] ?? standing,
  );
  return [anchor, ...parts.filter((part) => part !== anchor)].map((region) => ({
    region,
    chains: region.rings.map((ring) => ringChain(ring, REGION_FIT_MM)),
  }));
}

/** Discs this many times as wide as the start hole are wide enough; so much is looked for. */
const DISC_ENOUGH = 4;
/** The disc is known to this, mm. */
const DISC_STEP_MM = 0.05;

function openingOf(hole: Ring, startHoleMm: number): Opening {
  const edge = ringChain(hole.toReversed(), REGION_FIT_MM);
  const { at, radius } = widestPlace(
    { rings: [chordPoints(edge, CHORD_ERROR_MM)] },
    (DISC_ENOUGH * startHoleMm) / 2,
  );
  return { edge, widest: at, discMm: 2 * radius };
}

/** Shrunk until nothing is left: what is left last is the middle of the widest place. */
function widestPlace(region: Region, enoughMm: number): { readonly at: Point; readonly radius: number } {
  let low = 0;
  // No region holds a disc larger than itself.
  let high = Math.min(enoughMm, Math.sqrt(regionArea(region) / Math.PI));
  let last = grow(region, -high, DISC_STEP_MM / 4);
  if (last.rings.length > 0) return { at: middleOf(last), radius: high };
  last = region;
  while (high - low > DISC_STEP_MM / 2) {
    const radius = (low + high) / 2;
    const shrunk = grow(region, -radius, DISC_STEP_MM / 4);
    if (shrunk.rings.length > 0) {
      low = radius;
      last = shrunk;
    } else high = radius;
  }
  return { at: middleOf(last), radius: low };
}

/** The mean of the corners of the first ring, or a corner where that lies outside. */
function middleOf(region: Region): Point {
  const ring = region.rings[0] ?? [];
  const sum = ring.reduce((total, { x, y }) => ({ x: total.x + x, y: total.y + y }), { x: 0, y: 0 });
  const mean = { x: sum.x / Math.max(1, ring.length), y: sum.y / Math.max(1, ring.length) };
  return regionHolds(region, mean) ? mean : (ring[0] ?? mean);
}

/**
 * The narrowest place that anything hangs on, or is wide itself, mm: twice what can be taken off
 * all round before the piece falls apart or one of its parts is gone.
 *
 * @param mostMm what is wider is not measured
 */
export function narrowestMm({ parts, whole }: PiercedPiece, mostMm: number): number {
  const coarse = coarsened(whole);
  const coarseParts = parts.map(({ region }) => coarsened(region));
  const holds = (radius: number) =>
    partsOf(grow(coarse, -radius, CHORD_ERROR_MM)).length === 1 &&
    coarseParts.every((part) => grow(part, -radius, CHORD_ERROR_MM).rings.length > 0);
  if (holds(mostMm / 2)) return mostMm;
  let low = 0;
  let high = mostMm / 2;
  while (high - low > DISC_STEP_MM / 4) {
    const radius = (low + high) / 2;
    if (holds(radius)) low = radius;
    else high = radius;
  }
  return 2 * low;
}

/** With no more corners than measuring needs. */
function coarsened({ rings }: Region): Region {
  return { rings: rings.map((ring) => chordPoints(ringChain(ring, REGION_FIT_MM), CHORD_ERROR_MM)) };
}

/** Where what is left falls apart when so much is taken off all round: the narrow places. */
export function narrowPlaces({ whole }: PiercedPiece, widthMm: number): Point[] {
  const shrunk = partsOf(grow(coarsened(whole), -widthMm / 2, CHORD_ERROR_MM));
  const parts = shrunk.map((region) => ({
    region,
    chains: region.rings.map((ring) => ({
      closed: true,
      vertices: ring.map(({ x, y }) => ({ x, y, bulge: 0 })),
    })),
  }));
  return bridgeParts(parts, { widthMm, reachMm: 2 * widthMm }).map(({ onA, onB }) => ({
    x: (onA.x + onB.x) / 2,
    y: (onA.y + onB.y) / 2,
  }));
}

/** How far each part that hangs on one bridge alone reaches from it. */
export function singleHolds({
  parts,
  bridges,
}: PiercedPiece): { readonly at: Point; readonly reachMm: number }[] {
  return parts.flatMap((part, number) => {
    if (number === 0) return [];
    const own = bridges.filter(({ a, b }) => a === number || b === number);
    const [only, ...others] = own;
    if (!only || others.length > 0) return [];
    const at = only.a === number ? only.onA : only.onB;
    const corners = part.chains.flatMap((chain) => chordPoints(chain, DISC_STEP_MM));
    const reachMm = corners.reduce((most, { x, y }) => Math.max(most, Math.hypot(x - at.x, y - at.y)), 0);
    return [{ at, reachMm }];
  });
}
