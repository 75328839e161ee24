/**
 * The last way along the walls, at the exact distance of the cutter's radius. It begins and ends
 * on quarter circles that touch the wall's contour, in ground that is cleared, so that the
 * cutter leaves no mark where it comes and goes; where none fits, straight at the wall or on the
 * contour itself.
 */
import { type ArcChain, joinChains, polyline } from "../../geometry/arc-chain.ts";
import { chordPoints } from "../../geometry/chords.ts";
import { along, distance, leftOf, type Point } from "../../geometry/point.ts";
import type { ContourPart, InnerSide } from "./pocket-contours.ts";
import type { RingPlace, RingRuler } from "./ring-ruler.ts";
import { REGION_CHORD_MM } from "./router-panel.ts";
import type { Trail } from "./trail.ts";

export interface WallRoom {
  readonly inner: InnerSide;
  readonly radiusMm: number;
  /** What clearing left on the walls. */
  readonly allowanceMm: number;
  /** Whether the straight way keeps clear of what stands. */
  readonly inside: (from: Point, to: Point) => boolean;
  /** Whether the cutter finds everything below it cleared already, to the full depth. */
  readonly cleared: (at: Point) => boolean;
}

/** Radii of leads, as shares of the cutter's. */
const LEAD_SHARES = [1, 0.5, 0.25];
/** A ring is run this share of the cutter's radius past its start, so that no ridge is left there. */
const OVERLAP_SHARE = 0.5;
/** Places on a ring that are tried for its start. */
const STARTS = 24;

export function wallTrails(parts: readonly ContourPart[], room: WallRoom, from: Point): Trail[] {
  return parts.map((part) => (part.whole ? ringTrail(part.ring, room, from) : stretchTrail(part, room)));
}

function ringTrail(ring: RingRuler, room: WallRoom, from: Point): Trail {
  const starts = Array.from({ length: STARTS }, (_, i) => (i * ring.length) / STARTS)
    .map((at) => ({ at, apart: distance(ring.at(at).point, from) }))
    .sort((a, b) => a.apart - b.apart || a.at - b.at);
  const overlapMm = Math.min(OVERLAP_SHARE * room.radiusMm, ring.length / 4);
  for (const share of LEAD_SHARES) {
    for (const { at } of starts) {
      const end = at + ring.length + overlapMm;
      const into = leadIn(ring.at(at), room, share);
      const out = into && leadOut(ring.at(end), room, share);
      if (into && out) return { chain: joinChains([into, ring.part(at, end), out], false), round: false };
    }
  }
  for (const { at } of starts) {
    const into = straightIn(ring.at(at), room);
    if (into)
      return { chain: joinChains([into, ring.part(at, at + ring.length + overlapMm)], false), round: false };
  }
  const at = starts[0]?.at ?? 0;
  return { chain: ring.part(at, at + ring.length), loop: { ring, at }, round: true };
}

/** In a narrow place: straight at the wall, from the nearest cleared ground. */
function straightIn({ point, direction }: RingPlace, room: WallRoom): ArcChain | undefined {
  const { allowanceMm, radiusMm, cleared, inside } = room;
  for (const share of [0, ...LEAD_SHARES].toReversed()) {
    const away = Math.max(allowanceMm, share * radiusMm);
    const start = along(point, leftOf(direction), inwards(room) * away);
    if (cleared(start) && inside(start, point)) return polyline([start, point], false);
  }
  return undefined;
}

function stretchTrail({ ring, from, to }: ContourPart, room: WallRoom): Trail {
  const into = firstLead(ring.at(from), room, leadIn) ?? straightIn(ring.at(from), room);
  const begins = into ? from : clearedBefore(ring, from, room);
  const out = firstLead(ring.at(to), room, leadOut);
  const chains = [into, ring.part(begins, to), out].filter((chain) => chain !== undefined);
  return { chain: joinChains(chains, false), round: false };
}

type Lead = (place: RingPlace, room: WallRoom, share: number) => ArcChain | undefined;

function firstLead(place: RingPlace, room: WallRoom, lead: Lead): ArcChain | undefined {
  for (const share of LEAD_SHARES) {
    const found = lead(place, room, share);
    if (found) return found;
  }
  return undefined;
}

/** A quarter circle from cleared ground on to the contour, along it at its end. */
function leadIn({ point, direction }: RingPlace, room: WallRoom, share: number): ArcChain | undefined {
  const radius = share * room.radiusMm;
  const centre = along(point, leftOf(direction), inwards(room) * radius);
  const start = along(centre, direction, -radius);
  const chain = quarter(start, point, room);
  return room.cleared(start) && fits(chordPoints(chain, REGION_CHORD_MM), room) ? chain : undefined;
}

/** The same, off the contour. */
function leadOut({ point, direction }: RingPlace, room: WallRoom, share: number): ArcChain | undefined {
  const radius = share * room.radiusMm;
  const centre = along(point, leftOf(direction), inwards(room) * radius);
  const end = along(centre, direction, radius);
  const chain = quarter(point, end, room);
  return room.cleared(end) && fits(chordPoints(chain, REGION_CHORD_MM).reverse(), room) ? chain : undefined;
}

function quarter(from: Point, to: Point, room: WallRoom): ArcChain {
  const bulge = inwards(room) * Math.tan(Math.PI / 8);
  return {
    closed: false,
    vertices: [
      { x: from.x, y: from.y, bulge },
      { x: to.x, y: to.y, bulge: 0 },
    ],
  };
}

/** Turning left leads inward where the inside lies on the left. */
function inwards({ inner }: WallRoom): number {
  return inner === "left" ? 1 : -1;
}

/** Whether chords keep clear of what stands. The points come from the lead's far end to the contour, which runs along the room's own edge. */
function fits(points: readonly Point[], { inside }: WallRoom): boolean {
  return points.slice(1).every((point, i) => inside(points[i] ?? point, point));
}

/** Where the contour comes out of cleared ground before a place on it; the place itself where it does not soon. */
function clearedBefore(ring: RingRuler, from: number, room: WallRoom): number {
  const stepMm = room.radiusMm / 4;
  for (let back = 0; back <= 2 * room.radiusMm && back < ring.length / 2; back += stepMm) {
    if (room.cleared(ring.at(from - back).point)) return from - back;
  }
  return from;
}
