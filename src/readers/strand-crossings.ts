/**
 * Where drawn strands cross, themselves and each other. Segments meet exactly (lines and arcs);
 * meetings that are one point become one place, with the passages through it: so a crossing on
 * the joint of two segments is found as surely as any other. At a crossing there are two
 * passages, and their four rays lie in turn round it, none too near the next.
 */
import { done, type Fault, type Result } from "../base/fault.ts";
import { LEAST_BETWEEN_CROSSINGS_MM } from "../base/tolerance.ts";
import { boundsOf } from "../geometry/bounds.ts";
import { BoxIndex } from "../geometry/distance.ts";
import { meet } from "../geometry/meet.ts";
import { between, distance, type Point, type Vec } from "../geometry/point.ts";
import { directionAt, endDirection, segmentBounds, startDirection } from "../geometry/segment.ts";
import { type DrawnStrand, SLIVER_MM, type StrandSegment } from "./drawn-strands.ts";

/** A strand's way through a place: the segment by which it leaves, and the share of it passed by then. */
export interface Passage {
  readonly strand: number;
  readonly segment: number;
  readonly share: number;
}

/** One of the four ways out of a crossing. */
export interface Ray {
  /** Which of the crossing's two passages, and whether the strand leaves or arrives by it. */
  readonly passage: 0 | 1;
  readonly leaves: boolean;
}

export interface DrawnCrossing {
  readonly at: Point;
  readonly passages: readonly [Passage, Passage];
  /** Counter-clockwise. */
  readonly rays: readonly Ray[];
}

/** Strands that cross at a smaller angle run side by side for longer than a ribbon is wide. */
const LEAST_ANGLE_RAD = (20 / 180) * Math.PI;
/** What fitting and rounding may take from an angle that was drawn at the least. */
const ANGLE_SLACK_RAD = 1e-3;
/** Directions closer than this cannot be put in an order. */
const UNCLEAR_RAD = 1e-3;

/** Bounds on the work that a hostile file can ask for. */
const MOST_CROSSINGS = 250_000;
const MOST_PAIRS = 4_000_000;
const MOST_PAIRS_EACH = 40;

/** One segment in the list of all, with its neighbours on the strand. */
interface Placed {
  readonly part: StrandSegment;
  readonly strand: number;
  readonly segment: number;
  readonly before: number;
  readonly after: number;
}

interface Meeting {
  readonly at: Point;
  readonly a: Passage;
  readonly b: Passage;
}

/**
 * All crossings, in no particular order.
 *
 * Faults, in mm from the lower left corner: `strands-overlap`, `strands-touch`, `crossing-flat`,
 * `crossings-crowd` (each with its line), `drawing-too-rich`.
 */
export function findCrossings(strands: readonly DrawnStrand[]): Result<readonly DrawnCrossing[]> {
  const placed = placeSegments(strands);
  const found = allMeetings(placed);
  if (!found.ok) return found;
  const { meetings, overlaps } = found.value;
  // Strands that run on top of each other are told once, not at every joint on the way.
  const places = gather(meetings.filter(({ a, b }) => !overlaps.has(pairName(a, b))));
  const crowded = crowdedPlaces(places, strands);
  const crossings: DrawnCrossing[] = [];
  const faults: Fault[] = [...overlaps.values(), ...crowded.faults];
  for (const [i, { at, passages }] of places.entries()) {
    const [first, second, ...more] = passages;
    // One passage alone is a corner too sharp to tell its sides apart.
    if (!first || !second || more.length > 0 || crowded.places.has(i)) continue;
    const judged = judge(at, [first, second], strands);
    if ("code" in judged) faults.push(judged);
    else crossings.push(judged);
  }
  return faults.length > 0 ? { ok: false, faults } : done(crossings);
}

function placeSegments(strands: readonly DrawnStrand[]): Placed[] {
  const placed: Placed[] = [];
  for (const [strand, parts] of strands.entries()) {
    const first = placed.length;
    const count = parts.length;
    for (const [segment, part] of parts.entries()) {
      const before = first + ((segment + count - 1) % count);
      placed.push({ part, strand, segment, before, after: first + ((segment + 1) % count) });
    }
  }
  return placed;
}

/** What all pairs of segments have in common. */
interface Met {
  readonly meetings: Meeting[];
  /** For each pair of strands that run on top of each other, the first place where they do. */
  readonly overlaps: Map<string, Fault>;
}

function allMeetings(placed: readonly Placed[]): Result<Met> {
  const met: Met = { meetings: [], overlaps: new Map() };
  for (const pair of nearPairs(placed)) {
    if (pair === "too many" || met.meetings.length > MOST_CROSSINGS)
      return { ok: false, faults: [{ code: "drawing-too-rich", most: MOST_CROSSINGS, of: "crossings" }] };
    addMeetings(pair[0], pair[1], placed, met);
  }
  return done(met);
}

/** Each pair of segments that come near each other, once. */
function* nearPairs(placed: readonly Placed[]): Generator<readonly [Placed, Placed] | "too many"> {
  const boxes = placed.map(({ part }) => segmentBounds(part));
  const index = new BoxIndex(boxes);
  let left = MOST_PAIRS + MOST_PAIRS_EACH * placed.length;
  for (const [i, own] of placed.entries()) {
    const box = boxes[i];
    const near = box ? index.near(box, SLIVER_MM) : [];
    left -= near.length;
    if (left < 0) yield "too many";
    for (const j of near.sort((a, b) => a - b)) {
      const other = placed[j];
      if (j > i && other) yield [own, other];
    }
  }
}

function addMeetings(own: Placed, other: Placed, placed: readonly Placed[], met: Met): void {
  const shared = meet(own.part, other.part);
  if (shared.kind === "none") return;
  const [first, last] = shared.at;
  if (shared.kind === "overlap" && first && last && distance(first.point, last.point) > SLIVER_MM) {
    const at = between(first.point, last.point, 0.5);
    const pair = pairName(own, other);
    if (met.overlaps.has(pair)) return;
    met.overlaps.set(pair, { code: "strands-overlap", ...placeOf(at, own.part, other.part) });
    return;
  }
  // Neighbours share their joint; that is no meeting.
  const joints = [
    ...(placed[own.after] === other ? [own.part.to] : []),
    ...(placed[own.before] === other ? [own.part.from] : []),
  ];
  for (const { point, onA, onB } of shared.at) {
    if (joints.some((joint) => distance(joint, point) <= SLIVER_MM)) continue;
    const a = passageAt(own, onA, point, placed);
    met.meetings.push({ at: point, a, b: passageAt(other, onB, point, placed) });
  }
}

function pairName(a: { readonly strand: number }, b: { readonly strand: number }): string {
  return `${Math.min(a.strand, b.strand)} ${Math.max(a.strand, b.strand)}`;
}

/** On a joint the passage is the start of the segment after it. */
function passageAt(own: Placed, share: number, at: Point, placed: readonly Placed[]): Passage {
  const { part, strand, segment } = own;
  if (distance(part.to, at) <= SLIVER_MM)
    return { strand, segment: placed[own.after]?.segment ?? 0, share: 0 };
  return { strand, segment, share: distance(part.from, at) <= SLIVER_MM ? 0 : share };
}

interface Place {
  readonly at: Point;
  readonly passages: Passage[];
}

/** Meetings closer than a sliver are one place: at 20 degrees rounding spreads them far less. */
function gather(meetings: readonly Meeting[]): Place[] {
  const index = new BoxIndex(meetings.map(({ at }) => boundsOf([at])));
  const taken = new Uint8Array(meetings.length);
  const places: Place[] = [];
  for (const [i, { at }] of meetings.entries()) {
    if (taken[i] === 1) continue;
    const place: Place = { at, passages: [] };
    for (const j of index.near(boundsOf([at]), SLIVER_MM)) {
      const meeting = meetings[j];
      if (!meeting || taken[j] === 1) continue;
      taken[j] = 1;
      for (const passage of [meeting.a, meeting.b]) {
        if (!place.passages.some((known) => samePassage(known, passage))) place.passages.push(passage);
      }
    }
    places.push(place);
  }
  return places;
}

/** Segments do not cross themselves, and joints have one name. */
function samePassage(a: Passage, b: Passage): boolean {
  return a.strand === b.strand && a.segment === b.segment;
}

function crowdedPlaces(places: readonly Place[], strands: readonly DrawnStrand[]) {
  const index = new BoxIndex(places.map(({ at }) => boundsOf([at])));
  const crowded = new Set<number>();
  const faults: Fault[] = [];
  for (const [i, { at, passages }] of places.entries()) {
    const others = index
      .near(boundsOf([at]), LEAST_BETWEEN_CROSSINGS_MM)
      .filter((j) => j !== i && distance(at, places[j]?.at ?? at) < LEAST_BETWEEN_CROSSINGS_MM);
    if (passages.length < 3 && others.length === 0) continue;
    const isTold = crowded.has(i);
    for (const j of [i, ...others]) crowded.add(j);
    const [first, second] = passages;
    if (isTold || !first || !second) continue;
    const place = placeOf(at, partOf(first, strands), partOf(second, strands));
    faults.push({ code: "crossings-crowd", ...place, leastMm: LEAST_BETWEEN_CROSSINGS_MM });
  }
  return { places: crowded, faults };
}

/** A crossing, or why it is none. */
function judge(
  at: Point,
  passages: readonly [Passage, Passage],
  strands: readonly DrawnStrand[],
): DrawnCrossing | Fault {
  const rays = passages
    .flatMap((passage, i) => raysOf(passage, i === 0 ? 0 : 1, strands))
    .sort((a, b) => a.angle - b.angle);
  let least = Number.POSITIVE_INFINITY;
  let alternates = true;
  for (const [i, ray] of rays.entries()) {
    const next = rays[(i + 1) % 4] ?? ray;
    const gap = (next.angle - ray.angle + 2 * Math.PI) % (2 * Math.PI);
    if (next.passage === ray.passage) alternates = false;
    else least = Math.min(least, gap);
  }
  const place = placeOf(at, partOf(passages[0], strands), partOf(passages[1], strands));
  if (!alternates || least < UNCLEAR_RAD) return { code: "strands-touch", ...place };
  if (least < LEAST_ANGLE_RAD - ANGLE_SLACK_RAD) {
    return { code: "crossing-flat", ...place, angleDeg: degrees(least), leastDeg: degrees(LEAST_ANGLE_RAD) };
  }
  return { at, passages, rays };
}

function raysOf(
  passage: Passage,
  which: 0 | 1,
  strands: readonly DrawnStrand[],
): (Ray & { readonly angle: number })[] {
  const { strand, segment, share } = passage;
  const leaving = partOf(passage, strands);
  const parts = strands[strand] ?? [];
  const arriving = share === 0 ? (parts.at(segment - 1) ?? leaving) : leaving;
  const out: Vec = share === 0 ? startDirection(leaving) : directionAt(leaving, share);
  const come: Vec = share === 0 ? endDirection(arriving) : out;
  return [
    { passage: which, leaves: true, angle: Math.atan2(out.y, out.x) },
    { passage: which, leaves: false, angle: Math.atan2(-come.y, -come.x) },
  ];
}

function partOf({ strand, segment }: Passage, strands: readonly DrawnStrand[]): StrandSegment {
  return strands[strand]?.[segment] ?? NOWHERE;
}

const NOWHERE: StrandSegment = { from: { x: 0, y: 0 }, to: { x: 0, y: 0 }, bulge: 0, line: 0 };

function placeOf({ x, y }: Point, one: StrandSegment, other: StrandSegment) {
  const [line, otherLine] = one.line <= other.line ? [one.line, other.line] : [other.line, one.line];
  return { line, xMm: x, yMm: y, ...(line === otherLine ? {} : { otherLine }) };
}

function degrees(radians: number): number {
  return Math.round((radians / Math.PI) * 1800) / 10;
}
