/** Bridges that hold the panel while it is cut free: where they stand along the cutter's way. */
import { InternalError } from "../../base/internal-error.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import {
  type ArcChain,
  chainEnd,
  chainOf,
  chainStart,
  joinChains,
  polyline,
  reverseChain,
  segmentsOf,
} from "../../geometry/arc-chain.ts";
import { parallelSegment } from "../../geometry/segment.ts";
import type { RingRuler } from "./ring-ruler.ts";

/** A stretch of the way by its lengths along it; `to` may go past the ring's end. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/**
 * Middles of `count` stretches of `spanMm` each, spread evenly and then moved to the nearest place
 * where they lie on a straight run; on a way without any (a circle, the knot's outline) as they
 * are. The first lies in the middle of the longest run.
 */
export function tabMiddles(ring: RingRuler, count: number, spanMm: number): number[] {
  const runs = straightRuns(ring).filter(({ from, to }) => to - from >= spanMm);
  const longest = runs.reduce<Span | undefined>(
    (best, run) => (best && best.to - best.from >= run.to - run.from - SAME_POINT_MM ? best : run),
    undefined,
  );
  const first = longest ? (longest.from + longest.to) / 2 : ring.length / (2 * count);
  const middles: number[] = [];
  for (let i = 0; i < count; i++) {
    const wanted = ring.wrapped(first + (i * ring.length) / count);
    middles.push(longest ? onRun(ring, runs, { wanted, spanMm, taken: middles }) : wanted);
  }
  return middles.sort((a, b) => a - b);
}

/** How many stretches of `spanMm` surely find room: wherever the ones before were set, each takes no more than twice its length. */
export function tabRoom(ring: RingRuler, spanMm: number): number {
  const runs = straightRuns(ring);
  const lengths = runs.length > 0 ? runs.map(({ from, to }) => to - from) : [ring.length];
  return lengths.reduce(
    (sum, length) => sum + (length < spanMm ? 0 : 1 + Math.floor((length - spanMm) / (2 * spanMm))),
    0,
  );
}

/** The place nearest to the wanted one where a tab lies on one run and on no other tab. */
function onRun(
  ring: RingRuler,
  runs: readonly Span[],
  {
    wanted,
    spanMm,
    taken,
  }: { readonly wanted: number; readonly spanMm: number; readonly taken: readonly number[] },
): number {
  const half = spanMm / 2;
  const away = (a: number, b: number) => {
    const apart = ring.wrapped(a - b);
    return Math.min(apart, ring.length - apart);
  };
  const beside = taken.flatMap((middle) => [middle - spanMm, middle + spanMm]);
  const places = runs.flatMap(({ from, to }) =>
    [
      wanted,
      wanted + ring.length,
      from + half,
      to - half,
      ...beside,
      ...beside.map((at) => at + ring.length),
    ].filter((at) => at >= from + half - SAME_POINT_MM && at <= to - half + SAME_POINT_MM),
  );
  const free = places.filter((at) => taken.every((middle) => away(at, middle) >= spanMm - SAME_POINT_MM));
  if (free.length === 0) throw new InternalError(`no room for another tab of ${spanMm} mm`);
  return ring.wrapped(free.reduce((best, at) => (away(at, wanted) < away(best, wanted) ? at : best)));
}

/** Straight segments; those that go on past the ring's end with lengths past it. */
function straightRuns(ring: RingRuler): Span[] {
  return ring.segments.flatMap(({ bulge }, i) => {
    const from = ring.begins[i] ?? 0;
    return bulge === 0 ? [{ from, to: ring.begins[i + 1] ?? from }] : [];
  });
}

/** The outline of a bridge as seen from above: the slot's width over the given stretch of the cutter's way. */
export function bridgeOutline(ring: RingRuler, { from, to }: Span, cutterRadiusMm: number): ArcChain {
  const way = segmentsOf(ring.part(from, to));
  const side = (left: number) =>
    chainOf(
      way.flatMap((segment) => parallelSegment(segment, left) ?? []),
      false,
    );
  const there = side(-cutterRadiusMm);
  const back = reverseChain(side(cutterRadiusMm));
  return joinChains([there, straight(there, back), back, straight(back, there)], true);
}

/** From the end of one chain to the start of another. */
function straight(from: ArcChain, to: ArcChain): ArcChain {
  return polyline([chainEnd(from), chainStart(to)], false);
}
