/**
 * A narrow satin along a line, half of it on each side: the rungs of a column (ladder.ts), without
 * anything above or below.
 */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import type { ArcChain } from "../../geometry/arc-chain.ts";
import { distance } from "../../geometry/point.ts";
import type { Line } from "./column-corner.ts";
import { type CornerRule, findCorners } from "./column-corner.ts";
import { HoleKeeper } from "./hole-keeper.ts";
import { makeLadder } from "./ladder.ts";
import { ruleChain } from "./ruled-chain.ts";
import { begunAfresh } from "./satin-column.ts";

/** One step of shortening along an inner edge, as a share of the width (common practice, no source). */
const SHORTENED_SHARE = 0.25;

/** The lines of thread across, in order along the chain; a closed one begins at a sharp corner or in the middle of its longest side. */
export function edgeRungs(chain: ArcChain, rule: CornerRule): Line[] {
  const ruled = ruleChain(chain.closed ? begunAfresh(chain, rule) : chain);
  const corners = findCorners(ruled, 0, ruled.lengthMm, rule);
  const { leastHoleSpacingMm, leastLengthMm } = rule;
  const keeper = new HoleKeeper({ leastHoleSpacingMm, leastLengthMm, share: SHORTENED_SHARE }, ruled.closed);
  const question = { centreline: ruled, corners, fromMm: 0, toMm: ruled.lengthMm, rule };
  return makeLadder(question).flatMap(({ left, right, atMitre }) => {
    if (distance(left, right) < leastLengthMm - SAME_POINT_MM) return [];
    const placed = keeper.place(left, right, atMitre === true);
    return placed ? [placed] : [];
  });
}
