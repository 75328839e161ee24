/**
 * The order in which lines are sewn, and from which end each: near ones after one another
 * (cut-order.ts), then for that order the ends that make the needle's way between lines shortest,
 * found exactly by looking at both ends of each line from the first to the last.
 */
import { type ArcChain, chainEnd, chainStart, reverseChain } from "../../geometry/arc-chain.ts";
import { distance, type Point } from "../../geometry/point.ts";
import { orderCuts } from "../cut-order.ts";

/** The chains in order, open ones turned round where that shortens the way. */
export function orderLines(chains: readonly ArcChain[], from: Point): ArcChain[] {
  const order = orderCuts(
    chains.map((chain) => ({ chains: [chain], depth: 0 })),
    from,
  );
  return chooseEnds(order, from);
}

/** The shortest way so far to the end of a line sewn as it is (0) or turned round (1). */
interface Choice {
  readonly wayMm: readonly [number, number];
  /** How the line before is sewn then. */
  readonly before: readonly [0 | 1, 0 | 1];
}

function chooseEnds(order: readonly ArcChain[], from: Point): ArcChain[] {
  const choices: Choice[] = [];
  let ends: readonly [Point, Point] = [from, from];
  let ways: readonly [number, number] = [0, 0];
  for (const chain of order) {
    const [start, end]: [Point, Point] = [chainStart(chain), chainEnd(chain)];
    const [asItIs, asItIsAfter] = shorter(ends, ways, start);
    const [turned, turnedAfter] = shorter(ends, ways, end);
    ways = [asItIs, turned];
    ends = [end, start];
    choices.push({ wayMm: ways, before: [asItIsAfter, turnedAfter] });
  }
  const sewn: ArcChain[] = [];
  const last = choices.at(-1)?.wayMm ?? [0, 0];
  let way: 0 | 1 = last[1] < last[0] ? 1 : 0;
  for (let i = order.length - 1; i >= 0; i--) {
    const chain = order[i];
    if (chain) sewn.push(way === 1 && !chain.closed ? reverseChain(chain) : chain);
    way = choices[i]?.before[way] ?? 0;
  }
  return sewn.reverse();
}

function shorter(
  ends: readonly [Point, Point],
  ways: readonly [number, number],
  to: Point,
): readonly [number, 0 | 1] {
  const first = ways[0] + distance(ends[0], to);
  const second = ways[1] + distance(ends[1], to);
  return second < first ? [second, 1] : [first, 0];
}
