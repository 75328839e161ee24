/**
 * Ribbon pieces -> satin columns: one for each piece, in the same order. A column is as wide as
 * its ribbon and the pull, and ends beneath the over-strand: in from that ribbon's nearer edge by
 * the tuck less the push, whatever the angle of the crossing or the bend of the over-strand.
 */
import { groupBy } from "../../base/group-by.ts";
import { InternalError } from "../../base/internal-error.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { crossingPoint, type KnotDiagram } from "../../diagram/knot-diagram.ts";
import type { Strands } from "../../diagram/strands.ts";
import { type ArcChain, chainOf, chainPart, restartChain, segmentsOf } from "../../geometry/arc-chain.ts";
import { nearestOn } from "../../geometry/meet.ts";
import { distance } from "../../geometry/point.ts";
import { segmentLength, segmentPart, shareAt } from "../../geometry/segment.ts";
import type { RibbonPiece, Ribbons } from "../../ribbon/ribbon.ts";
import type { Rung, SatinColumn } from "./column.ts";
import { type CornerRule, findCorners } from "./column-corner.ts";
import { type ColumnEnd, findEnd, keptPart } from "./column-end.ts";
import { HoleKeeper } from "./hole-keeper.ts";
import { type LadderRung, makeLadder } from "./ladder.ts";
import { type CrossingPlace, overStretches, type Tuck, tuckOf } from "./over-stretch.ts";
import { type RuledChain, ruleChain } from "./ruled-chain.ts";
import type { SatinSettings } from "./settings.ts";

/** A column before it is known what it must cover. */
interface Draft {
  readonly column: SatinColumn;
  readonly places: readonly CrossingPlace[];
  /** Between these places along its centreline it is clear of the strands above. */
  readonly clearMm: readonly [number, number];
}

/** Strands are named by the pieces; `_strands` keeps the order of arguments that ribbons have. */
export function satinColumns(
  diagram: KnotDiagram,
  _strands: Strands,
  ribbons: Ribbons,
  settings: SatinSettings,
): SatinColumn[] {
  const tucks: Tuck[] = [];
  const drafts = ribbons.pieces.map((piece) => {
    const { draft, ends } = draftColumn(diagram, piece, ribbons.widthMm, settings);
    for (const end of ends) tucks.push(tuckOf(draft.column, end));
    return draft;
  });
  const beneath = groupBy(tucks, ({ crossing }) => crossing);
  return drafts.map(({ column, places, clearMm }) => ({
    ...column,
    over: overStretches(column, places, beneath, clearMm, settings.threadWidthMm),
  }));
}

/** The spacing is fitted to the length of a column; what that takes off it is no crowding. */
const LEAST_FITTED = 0.95;

/** What rungs of this ribbon go by. */
function ladderRule(ribbonMm: number, settings: SatinSettings): CornerRule {
  const widthMm = ribbonMm + settings.pullMm;
  return {
    widthMm,
    spacingMm: settings.spacingMm,
    leastHoleSpacingMm: Math.min(settings.leastHoleSpacingMm, LEAST_FITTED * settings.spacingMm),
    lapMm: settings.threadWidthMm / 2,
    // A column as narrow as this is sewn as satin only where the person asked for it.
    leastLengthMm: Math.min(settings.leastStitchMm, widthMm / 2),
  };
}

function draftColumn(
  diagram: KnotDiagram,
  piece: RibbonPiece,
  ribbonMm: number,
  settings: SatinSettings,
): { draft: Draft; ends: readonly ColumnEnd[] } {
  const rule = ladderRule(ribbonMm, settings);
  const whole = piece.centreline.closed ? begunAfresh(piece.centreline, rule) : piece.centreline;
  const ruled = ruleChain(whole);
  const ends = endsOf(diagram, piece, ruled, ribbonMm, settings);
  const fromMm = ends[0]?.cutMm ?? 0;
  const toMm = ends[1]?.cutMm ?? ruled.lengthMm;
  const isBean = ribbonMm < settings.leastSatinMm && settings.tooNarrow === "bean";
  const column: SatinColumn = {
    strand: piece.strand,
    centreline: whole.closed ? whole : chainPart(whole, fromMm, toMm),
    ends: piece.ends,
    over: [],
    rungs: isBean ? [] : rungsBetween(ruled, [fromMm, toMm], ends, rule, settings.shortenedShare),
    widthMm: rule.widthMm,
    ...(isBean ? { line: "bean" as const } : {}),
  };
  const places = piece.over.map((crossing) => {
    const alongMm = placeOver(ruled, diagram, crossing) - fromMm;
    return { crossing, alongMm };
  });
  const clearFrom = (ends[0]?.clearMm ?? 0) - fromMm;
  const clearTo = (ends[1]?.clearMm ?? ruled.lengthMm) - fromMm;
  return { draft: { column, places, clearMm: [clearFrom, clearTo] }, ends };
}

function endsOf(
  diagram: KnotDiagram,
  piece: RibbonPiece,
  centreline: RuledChain,
  ribbonMm: number,
  settings: SatinSettings,
): ColumnEnd[] {
  const { widthMm, leastLengthMm } = ladderRule(ribbonMm, settings);
  return piece.ends.map((crossing, i) =>
    findEnd({
      diagram,
      centreline,
      end: i === 0 ? "start" : "end",
      crossing,
      widthMm,
      ribbonMm,
      // Past the middle of the over-strand it would lie on the next column of its own strand.
      leastDepthMm: Math.max(0, ribbonMm / 2 - (settings.tuckMm - settings.pushMm)),
      leastLengthMm,
    }),
  );
}

/** A closed centreline begins at a mitre, where rungs are set anew, else in the middle of its longest segment. */
export function begunAfresh(centreline: ArcChain, rule: CornerRule): ArcChain {
  const ruled = ruleChain(centreline);
  const mitre = findCorners(ruled, 0, ruled.lengthMm, rule).find(({ fan }) => !fan);
  if (mitre) return restartChain(centreline, ruled.starts.indexOf(mitre.alongMm));
  const segments = segmentsOf(centreline);
  const longest = segments.reduce((a, b) => (segmentLength(b) > segmentLength(a) + SAME_POINT_MM ? b : a));
  const i = segments.indexOf(longest);
  return chainOf(
    [
      segmentPart(longest, 0.5, 1),
      ...segments.slice(i + 1),
      ...segments.slice(0, i),
      segmentPart(longest, 0, 0.5),
    ],
    true,
  );
}

function rungsBetween(
  centreline: RuledChain,
  [fromMm, toMm]: readonly [number, number],
  ends: readonly ColumnEnd[],
  rule: CornerRule,
  shortenedShare: number,
): Rung[] {
  const corners = findCorners(centreline, fromMm, toMm, rule);
  const { leastHoleSpacingMm, leastLengthMm } = rule;
  const keeper = new HoleKeeper(
    { leastHoleSpacingMm, leastLengthMm, share: shortenedShare },
    centreline.closed,
  );
  const rungs: Rung[] = [];
  for (const rung of makeLadder({ centreline, corners, fromMm, toMm, rule })) {
    const cut = cutAtEnds(rung, ends, rule.widthMm);
    if (!cut || distance(cut.left, cut.right) < leastLengthMm - SAME_POINT_MM) continue;
    const placed = keeper.place(cut.left, cut.right, rung.atMitre === true);
    if (placed) rungs.push({ ...placed, alongMm: rung.alongMm - fromMm });
  }
  return rungs;
}

function cutAtEnds(rung: LadderRung, ends: readonly ColumnEnd[], widthMm: number): LadderRung | undefined {
  let line: LadderRung | undefined = rung;
  for (const end of ends) {
    // The over-strand of one end may well lie beside the column elsewhere.
    const inward = Math.abs(rung.alongMm - end.cutMm);
    if (line && inward <= Math.abs(end.clearMm - end.cutMm) + widthMm / 2) {
      const kept = keptPart(line, end.depth, end.leastDepthMm);
      line = kept && { ...kept, alongMm: rung.alongMm };
    }
  }
  return line;
}

/** Where the centreline passes over a crossing; it may begin or end beneath the same one. */
function placeOver(centreline: RuledChain, diagram: KnotDiagram, crossing: number): number {
  const at = crossingPoint(diagram, crossing);
  const { segments, starts, lengthMm, closed } = centreline;
  for (const [i, segment] of segments.entries()) {
    const near = nearestOn(segment, at);
    if (distance(near, at) > CROSSING_NEAR_MM) continue;
    const from = starts[i] ?? 0;
    const alongMm = from + shareAt(segment, near) * ((starts[i + 1] ?? lengthMm) - from);
    const isEnd = alongMm < CROSSING_NEAR_MM || alongMm > lengthMm - CROSSING_NEAR_MM;
    if (closed || !isEnd) return alongMm;
  }
  throw new InternalError("a ribbon piece misses a crossing of its own");
}

/** Crossings lie on the curves through them but for rounding. */
const CROSSING_NEAR_MM = 1000 * SAME_POINT_MM;
