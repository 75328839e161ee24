/**
 * The panel cut free: round its outline in equal steps down, at last a hair through the stock,
 * over bridges that go on holding it. A step that goes below a bridge's top rises to it, crosses
 * it and goes down behind it by a ramp to and fro, so that no wedge is left beside the bridge.
 */
import { InternalError } from "../../base/internal-error.ts";
import {
  type ArcChain,
  chainLength,
  chainStart,
  reverseChain,
  signedArea,
} from "../../geometry/arc-chain.ts";
import { offsetChain } from "../../geometry/offset.ts";
import type { ToolRun } from "../../output/toolpath.ts";
import { MotionMaker } from "./motion-maker.ts";
import { stepsDown } from "./pocket.ts";
import { endMills } from "./reach.ts";
import { RingRuler } from "./ring-ruler.ts";
import type { LoadedCutter, RouterSettings } from "./settings.ts";
import { bridgeOutline, type Span, tabMiddles, tabRoom } from "./tabs.ts";
import { rampToAndFro } from "./trail.ts";

export interface CutOut {
  readonly run: ToolRun;
  /** The bridges as seen from above. */
  readonly tabs: readonly ArcChain[];
}

/** How far the last step goes into the board below, so that nothing hangs on. */
export const CUT_THROUGH_MM = 0.2;
/** The cutter rises to a bridge as far as it goes on: half a right angle. */
const RISE_SHARE = 1;

/** @throws InternalError where `tabsThatFit` are fewer than asked for */
export function cutOut(outline: ArcChain, settings: RouterSettings): CutOut {
  const { cutter, ring, crossing, riseMm } = layWay(outline, settings);
  const radius = cutter.shape.diameterMm / 2;
  const { tabCount, tabLengthMm } = settings;
  const middles = tabCount > 0 ? tabMiddles(ring, tabCount, crossing + 2 * riseMm) : [];
  const around =
    (lengthMm: number) =>
    (middle: number): Span => ({
      from: middle - lengthMm / 2,
      to: middle + lengthMm / 2,
    });
  const course = { ring, tabs: middles.map(around(crossing)), riseMm };
  return {
    run: {
      ...runOf(course, cutter, settings),
      purpose: "cut the panel out",
      cutter,
      spindleRpm: cutter.spindleRpm,
    },
    tabs: middles.map(around(tabLengthMm)).map((span) => bridgeOutline(ring, span, radius)),
  };
}

/** How many bridges of the length and height asked for find room along the panel's straight sides. */
export function tabsThatFit(outline: ArcChain, settings: RouterSettings): number {
  const { ring, crossing, riseMm } = layWay(outline, settings);
  return tabRoom(ring, crossing + 2 * riseMm);
}

function layWay(outline: ArcChain, settings: RouterSettings) {
  const cutter = cutOutCutter(settings);
  const { diameterMm } = cutter.shape;
  return {
    cutter,
    ring: new RingRuler(wayRound(outline, diameterMm / 2, settings.climb)),
    // The cutter is round: to leave a bridge as long as asked for it keeps up a diameter longer.
    crossing: settings.tabLengthMm + diameterMm,
    riseMm: (settings.tabHeightMm + CUT_THROUGH_MM) / RISE_SHARE,
  };
}

/** The largest end mill whose edges are as high as the stock is thick, else the one with the highest. */
export function cutOutCutter({ cutters, stockThicknessMm }: RouterSettings): LoadedCutter {
  const mills = endMills(cutters);
  const longest = mills.reduce<LoadedCutter | undefined>(
    (best, mill) => (best && best.cuttingLengthMm >= mill.cuttingLengthMm ? best : mill),
    undefined,
  );
  const cutter = mills.find(({ cuttingLengthMm }) => cuttingLengthMm >= stockThicknessMm) ?? longest;
  if (!cutter) throw new InternalError("no end mill to cut the panel out with");
  return cutter;
}

/** Climb cutting keeps the panel on the right (pocket-contours.ts), which is clockwise round it. */
function wayRound(outline: ArcChain, radiusMm: number, climb: boolean): ArcChain {
  const rings = offsetChain(outline, -radiusMm, "round");
  const outer = rings.reduce<ArcChain | undefined>(
    (best, ring) => (best && signedArea(best) >= signedArea(ring) ? best : ring),
    undefined,
  );
  if (!outer) throw new InternalError("no way round the panel");
  return climb ? reverseChain(outer) : outer;
}

interface Course {
  readonly ring: RingRuler;
  /** Where the cutter stays above the bridges, in order along the ring. */
  readonly tabs: readonly Span[];
  readonly riseMm: number;
}

/** A stretch at full depth, and the bridge that it leads to, if any. */
interface Leg {
  readonly low: ArcChain;
  readonly rise?: ArcChain;
  readonly over?: ArcChain;
}

function runOf(
  course: Course,
  cutter: LoadedCutter,
  settings: RouterSettings,
): Pick<ToolRun, "start" | "motions"> {
  const { stockThicknessMm, tabHeightMm, clearanceMm, approachMm } = settings;
  const topZ = tabHeightMm - stockThicknessMm;
  const { ring, tabs } = course;
  const begin = tabs.at(-1)?.to ?? 0;
  const whole: Leg[] = [{ low: ring.part(begin, begin + ring.length) }];
  const between = tabs.length > 0 ? legsOf(course) : whole;
  const { x, y } = chainStart(ring.part(begin, begin + ring.length));
  const maker = new MotionMaker(x, y, { clearanceZ: clearanceMm, approachZ: approachMm });
  maker.rapidOver(x, y);
  let above = 0;
  for (const z of stepsDown(stockThicknessMm + CUT_THROUGH_MM, cutter.stepDownMm)) {
    const legs = z < topZ ? between : whole;
    for (const leg of legs) followLeg(maker, leg, { above, z, topZ, cutter, rampDeg: settings.rampDeg });
    above = z;
  }
  maker.retract();
  return { start: maker.start, motions: maker.motions };
}

/** From each bridge to the next; the first begins behind the last bridge. */
function legsOf({ ring, tabs, riseMm }: Course): Leg[] {
  return tabs.map((tab, i) => {
    const before = tabs[i - 1]?.to ?? (tabs.at(-1)?.to ?? 0) - ring.length;
    return {
      low: ring.part(before, tab.from - riseMm),
      rise: ring.part(tab.from - riseMm, tab.from),
      over: ring.part(tab.from, tab.to),
    };
  });
}

function followLeg(
  maker: MotionMaker,
  { low, rise, over }: Leg,
  step: {
    readonly above: number;
    readonly z: number;
    readonly topZ: number;
    readonly cutter: LoadedCutter;
    readonly rampDeg: number;
  },
): void {
  const { above, z, topZ, cutter, rampDeg } = step;
  const { x, y } = chainStart(low);
  // As far as the step before went the way is free.
  maker.lineTo(x, y, Math.min(maker.at.z, above), cutter.plungeMmPerMin);
  const rampMm = (maker.at.z - z) / Math.tan((rampDeg * Math.PI) / 180);
  const ramp = rampToAndFro(low, rampMm);
  if (!ramp) throw new InternalError(`no room for a ramp of ${rampMm} mm in ${chainLength(low)} mm`);
  maker.follow(ramp, z, cutter.plungeMmPerMin);
  maker.follow(low, z, cutter.feedMmPerMin);
  if (rise) maker.follow(rise, topZ, cutter.feedMmPerMin);
  if (over) maker.follow(over, topZ, cutter.feedMmPerMin);
}
