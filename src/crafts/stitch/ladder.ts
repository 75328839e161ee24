/**
 * The rungs of a column before its ends are cut: perpendicular to the centreline, one for each
 * spacing along the outer edge, through fans and mitres (column-corner.ts). The spacing is
 * stretched or narrowed by less than half a step over each stretch between ends and mitres.
 */
import { along, between, distance, leftOf, type Point, type Vec } from "../../geometry/point.ts";
import { arcOf, segmentPart } from "../../geometry/segment.ts";
import {
  type Corner,
  type CornerRule,
  innerPoint,
  type Line,
  mitred,
  outerTip,
  shortOfTip,
} from "./column-corner.ts";
import { placeOn, type RuledChain } from "./ruled-chain.ts";

export interface LadderRung extends Line {
  /** Along the whole centreline. */
  readonly alongMm: number;
  /** Whether it lies beside a mitre. */
  readonly atMitre?: boolean;
}

export interface LadderQuestion {
  readonly centreline: RuledChain;
  readonly corners: readonly Corner[];
  readonly fromMm: number;
  readonly toMm: number;
  readonly rule: CornerRule;
}

/** A stretch of the column in which rungs follow one law, measured along its outer edge. */
interface Track {
  readonly lengthMm: number;
  /** @param t share (0 to 1) of the length */
  readonly rungAt: (t: number) => LadderRung;
}

/** Tracks between two mitres or ends. */
interface Span {
  readonly tracks: Track[];
  readonly start: Corner | undefined;
  end: Corner | undefined;
}

/**
 * Where the outer edge passes the tip of a mitre, in steps: the last rung before it and the first
 * behind it lie a quarter and three quarters of a step away, so that the holes of the two ladders
 * along the bisector fall between each other.
 */
const BEFORE_TIP = 0.25;
const AFTER_TIP = 0.75;

/** From an end to the first rung, in steps: a line of thread covers half a step to each side. */
const AT_END = 0.5;

export function makeLadder(question: LadderQuestion): LadderRung[] {
  const spans = spansOf(question);
  const steps = spans.map((span) => stepsOf(span, question));
  return spans.flatMap((span, i) => {
    const own = steps[i];
    const next = steps[i + 1] ?? steps[0];
    return own && next ? [...spanRungs(span, { own, next }, question.rule)] : [];
  });
}

/** A perpendicular rung; inside a bend no longer than to the bend's centre. */
export function rungAcross(centreline: RuledChain, alongMm: number, widthMm: number): LadderRung {
  const { point, direction } = placeOn(centreline, alongMm);
  return lineAcross(point, direction, { left: widthMm / 2, right: widthMm / 2 }, alongMm);
}

function lineAcross(
  point: Point,
  direction: Vec,
  reach: { readonly left: number; readonly right: number },
  alongMm: number,
): LadderRung {
  const across = leftOf(direction);
  return { left: along(point, across, reach.left), right: along(point, across, -reach.right), alongMm };
}

function spansOf({ centreline, corners, fromMm, toMm, rule }: LadderQuestion): Span[] {
  const { closed } = centreline;
  // A closed centreline with mitres begins at one of them.
  const first = closed && corners[0]?.alongMm === 0 ? corners[0] : undefined;
  let span: Span = { tracks: first ? [runOn(first, "after", rule)] : [], start: first, end: undefined };
  const spans = [span];
  let cursor = fromMm;
  const goTo = (mm: number) => {
    span.tracks.push(...segmentTracks(centreline, cursor, mm, rule.widthMm));
    cursor = mm;
  };
  for (const corner of first ? corners.slice(1) : corners) {
    goTo(corner.alongMm - (corner.fan?.beforeMm ?? 0));
    if (corner.fan) {
      span.tracks.push(...fanTracks(centreline, corner, corner.fan, rule.widthMm));
      cursor = corner.alongMm + corner.fan.afterMm;
      continue;
    }
    span.tracks.push(runOn(corner, "before", rule));
    span.end = corner;
    span = { tracks: [runOn(corner, "after", rule)], start: corner, end: undefined };
    spans.push(span);
  }
  goTo(toMm);
  if (first) {
    span.tracks.push(runOn({ ...first, alongMm: toMm }, "before", rule));
    span.end = first;
  }
  return spans;
}

function* segmentTracks(
  { segments, starts, lengthMm }: RuledChain,
  fromMm: number,
  toMm: number,
  widthMm: number,
): Iterable<Track> {
  const half = widthMm / 2;
  for (const [i, segment] of segments.entries()) {
    const start = starts[i] ?? 0;
    const end = starts[i + 1] ?? lengthMm;
    const a = Math.max(start, fromMm);
    const b = Math.min(end, toMm);
    if (b <= a) continue;
    const ruled: RuledChain = {
      closed: false,
      segments: [segmentPart(segment, (a - start) / (end - start), (b - start) / (end - start))],
      starts: [0],
      lengthMm: b - a,
    };
    const radius = segment.bulge === 0 ? Number.POSITIVE_INFINITY : arcOf(segment).radius;
    const inner = Math.min(half, radius);
    const reach = segment.bulge > 0 ? { left: inner, right: half } : { left: half, right: inner };
    yield {
      lengthMm: (b - a) * (1 + half / radius),
      rungAt: (t) => {
        const { point, direction } = placeOn(ruled, t * (b - a));
        return lineAcross(point, direction, reach, a + t * (b - a));
      },
    };
  }
}

/** Behind the corner's place the ladder runs straight on, up to the tip of the outer edges. */
function runOn(corner: Corner, side: "before" | "after", { widthMm }: CornerRule): Track {
  const { at, into, outOf, needMm, alongMm } = corner;
  const reach = { left: widthMm / 2, right: widthMm / 2 };
  return {
    lengthMm: needMm,
    rungAt: (t) =>
      side === "before"
        ? lineAcross(along(at, into, t * needMm), into, reach, alongMm)
        : lineAcross(along(at, outOf, (t - 1) * needMm), outOf, reach, alongMm),
  };
}

/** From the last perpendicular rung to the one on the bisector, and on to the next perpendicular one. */
function fanTracks(
  centreline: RuledChain,
  corner: Corner,
  fan: { readonly beforeMm: number; readonly afterMm: number },
  widthMm: number,
): Track[] {
  const { alongMm } = corner;
  const half = (reachMm: number, way: 1 | -1): Track => {
    const edge = outerEdge(centreline, corner, way * reachMm, widthMm);
    const far = rungAcross(centreline, alongMm + way * reachMm, widthMm);
    const inner = corner.turn > 0 ? far.left : far.right;
    const pivot = innerPoint(corner, widthMm);
    return {
      lengthMm: edge.lengthMm,
      rungAt: (t) => {
        // From the far rung to the bisector, whichever way the column is walked.
        const share = way < 0 ? t : 1 - t;
        const outside = edge.at(share);
        const inside = between(inner, pivot, share);
        const place = alongMm + way * reachMm * (1 - share);
        return corner.turn > 0
          ? { left: inside, right: outside, alongMm: place }
          : { left: outside, right: inside, alongMm: place };
      },
    };
  };
  return [half(fan.beforeMm, -1), half(fan.afterMm, 1)];
}

/** So many chords stand for a bent outer edge beside a fan. */
const EDGE_CHORDS = 8;

/** The outer edge from `reachMm` (signed) along the centreline beyond a corner to the tip. */
function outerEdge(centreline: RuledChain, corner: Corner, reachMm: number, widthMm: number) {
  // Just short of the corner, for its own place has the direction of the other side.
  const places = Array.from(
    { length: EDGE_CHORDS },
    (_, i) => corner.alongMm + reachMm * (1 - i / EDGE_CHORDS),
  );
  const points = places.map((place) => {
    const rung = rungAcross(centreline, place, widthMm);
    return corner.turn > 0 ? rung.right : rung.left;
  });
  points.push(outerTip(corner, widthMm));
  const lengths = points.slice(1).map((point, i) => distance(points[i] ?? point, point));
  const lengthMm = lengths.reduce((sum, length) => sum + length, 0);
  return {
    lengthMm,
    at: (share: number): Point => {
      let rest = share * lengthMm;
      for (const [i, length] of lengths.entries()) {
        const from = points[i];
        const to = points[i + 1];
        if (from && to && (rest <= length || i === lengths.length - 1))
          return between(from, to, length === 0 ? 0 : Math.min(1, rest / length));
        rest -= length;
      }
      return points[0] ?? corner.at;
    },
  };
}

interface Steps {
  readonly stepMm: number;
  /** Of the first rung, in steps from the span's start. */
  readonly first: number;
  /** From the last rung to the span's end. */
  readonly last: number;
  readonly count: number;
}

function stepsOf({ tracks, start, end }: Span, { centreline, rule }: LadderQuestion): Steps {
  const lengthMm = tracks.reduce((sum, track) => sum + track.lengthMm, 0);
  const first = start ? AFTER_TIP : centreline.closed ? 0 : AT_END;
  const last = end ? BEFORE_TIP : centreline.closed ? 1 : AT_END;
  const whole = lengthMm / rule.spacingMm - first - last;
  // Round a ring every second stitch may be shortened: an even number comes out even at the seam.
  const isRing = centreline.closed && !end;
  const between = isRing ? 2 * Math.max(1, Math.round((whole + 1) / 2)) - 1 : Math.max(0, Math.round(whole));
  return { stepMm: lengthMm / (between + first + last), first, last, count: between + 1 };
}

function* spanRungs(
  { tracks, start, end }: Span,
  { own, next }: { readonly own: Steps; readonly next: Steps },
  rule: CornerRule,
): Iterable<LadderRung> {
  const behindMm = start ? lapUpTo(start, own, rule) : 0;
  const lapMm = end ? lapUpTo(end, next, rule) : 0;
  const length = own.stepMm * (own.first + own.count - 1 + own.last);
  let track = 0;
  let passed = 0;
  for (let i = 0; i < own.count; i++) {
    const at = (own.first + i) * own.stepMm;
    if (at < behindMm) continue;
    let here = tracks[track]?.lengthMm ?? 0;
    while (track < tracks.length - 1 && at > passed + here) {
      passed += here;
      track++;
      here = tracks[track]?.lengthMm ?? 0;
    }
    const rung = tracks[track]?.rungAt(here === 0 ? 0 : Math.min(1, (at - passed) / here));
    if (!rung) return;
    let line: Line = rung;
    if (start) line = mitred(line, start, rule, "after", 0);
    if (end) line = mitred(line, end, rule, "before", lapMm);
    const beside = (corner: Corner | undefined, fromTip: number) =>
      corner !== undefined && fromTip <= 2 * corner.needMm + own.stepMm;
    yield { ...line, alongMm: rung.alongMm, atMitre: beside(start, at) || beside(end, length - at) };
  }
}

/** Along the second ladder's outer edge, up to where the first one covers the tip: a hole's distance short of the second's first rung. */
function lapUpTo(corner: Corner, next: Steps, rule: CornerRule): number {
  const least = shortOfTip(corner, rule) + rule.leastHoleSpacingMm;
  const short = Math.max(0, Math.ceil(least / next.stepMm - next.first));
  return (next.first + short) * next.stepMm - rule.leastHoleSpacingMm;
}
