/**
 * The V cutter's run, and before it the end mill's that clears the level floor. At each step down
 * first the paths along walls, then the floor that no mill enters, then the medial axis: so where
 * the axis comes out into the wide the cutter finds room. The panel's own cut-out is not part of it.
 */
import { groupBy } from "../../base/group-by.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { polyline } from "../../geometry/arc-chain.ts";
import { type Bounds, boundsOf, growBounds } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { nearestOn } from "../../geometry/meet.ts";
import { distance, type Point } from "../../geometry/point.ts";
import { EMPTY_REGION, grow, partsOf, type Region, type Ring, regionBounds } from "../../geometry/region.ts";
import { ringChain } from "../../geometry/ring-chain.ts";
import type { Place3, ToolRun } from "../../output/toolpath.ts";
import { orderCuts } from "../cut-order.ts";
import { FLOOR_CHORD_MM, FLOOR_RIDGE_MM, floorStep, passesInside } from "./groove-floor.ts";
import { type GrooveLines, grooveLines, linesForPass } from "./groove-lines.ts";
import type { GroovePlan } from "./groove-plan.ts";
import { rampDown } from "./groove-ramp.ts";
import { type Bridge, type Stroke, walkLines } from "./groove-walk.ts";
import { MotionMaker } from "./motion-maker.ts";
import { clearPocket, stepsDown } from "./pocket.ts";
import { RegionIndex } from "./region-index.ts";
import { RingRuler } from "./ring-ruler.ts";
import { REGION_CHORD_MM } from "./router-panel.ts";

/** Empty where there is nothing to cut. */
export function grooveRuns(plan: GroovePlan): ToolRun[] {
  return [...millRun(plan), ...new GrooveCarver(plan).run()];
}

function millRun({ mill, milled, floor, settings, limitDepthMm }: GroovePlan): ToolRun[] {
  if (!mill) return [];
  const { run } = clearPocket(
    { cutter: mill, ground: floor, cover: milled, cleared: EMPTY_REGION },
    // The slopes that the V cutter leaves are the walls: nothing has to be left on for them.
    {
      ...settings,
      work: "ground",
      groundDepthMm: limitDepthMm,
      frameMm: 0,
      cornerLeftMm: 0,
      wallAllowanceMm: 0,
    },
  );
  return run ? [{ ...run, purpose: "clear the floor between grooves" }] : [];
}

/** A ring is gone round no more often than this on the way down. */
const MOST_RAMP_ROUNDS = 40;
/** Contours lie this near to the edge of the floor that they are fitted to. */
const FLOOR_SLACK_MM = 5e-3;

/** A connected piece of the floor: the ways along its walls, and what the V cutter has to clear of it. */
interface FloorPart {
  readonly walls: readonly RingRuler[];
  readonly areas: readonly FloorArea[];
}

interface FloorArea {
  readonly edge: Region;
  /** From the edge inward. */
  readonly passes: readonly (readonly RingRuler[])[];
}

class GrooveCarver {
  readonly #plan: GroovePlan;
  readonly #maker: MotionMaker;
  readonly #slope: number;
  /** Where the tip may go at any depth once the floor is cleared. */
  readonly #floor: RegionIndex;

  constructor(plan: GroovePlan) {
    const { clearanceMm, approachMm, rampDeg } = plan.settings;
    this.#plan = plan;
    this.#slope = Math.tan((rampDeg * Math.PI) / 180);
    this.#maker = new MotionMaker(0, 0, { clearanceZ: clearanceMm, approachZ: approachMm });
    this.#floor = new RegionIndex(grow(plan.floor, FLOOR_SLACK_MM, REGION_CHORD_MM));
  }

  run(): ToolRun[] {
    const { cutter, settings } = this.#plan;
    const lines = grooveLines(this.#plan);
    const levels = this.#levels(lines);
    for (const part of this.#parts()) {
      let before = 0;
      for (const z of levels) {
        for (const wall of part.walls) this.#wall(wall, before, z);
        for (const area of part.areas) this.#area(area, z);
        before = z;
      }
    }
    const bridges = this.#bridges(lines);
    let before = 0;
    for (const z of levels) {
      const rules = { surfaceZ: before, retraceMm: this.#retraceMm(z), from: this.#maker.at, bridges };
      for (const stroke of walkLines(linesForPass(lines, before, z), rules)) this.#stroke(stroke, before);
      before = z;
    }
    const { motions } = this.#maker;
    if (motions.length === 0) return [];
    this.#maker.retract();
    const purpose = settings.fill === "outlines" ? "carve grooves along the ribbons" : "carve the ground";
    return [{ purpose, cutter, spindleRpm: cutter.spindleRpm, start: this.#maker.start, motions }];
  }

  /** In a short order over their outer walls; along outlines every groove is a part of its own. */
  #parts(): FloorPart[] {
    const { contours, floor, rest, cutter, mill } = this.#plan;
    const rulers = contours.map((chain) => new RingRuler(chain));
    const areas = partsOf(rest).map((edge) => areaOf(edge, floorStep(cutter.shape, mill)));
    const pieces = partsOf(floor).map((piece) => ({
      index: new RegionIndex(piece),
      box: growBounds(regionBounds(piece), FLOOR_SLACK_MM),
    }));
    const pieceOf = (point: Point | undefined) =>
      pieces.findIndex(
        ({ index, box }) => point && boxHolds(box, point) && index.within(point, FLOOR_SLACK_MM),
      );
    const wallsOf = groupBy(rulers, (ruler) =>
      pieces.length > 0 ? pieceOf(ruler.at(0).point) : rulers.indexOf(ruler),
    );
    const areasOf = groupBy(areas, ({ edge }) => pieceOf(edge.rings[0]?.[0]));
    const parts = [...wallsOf].map(([i, walls]) => ({ walls, areas: areasOf.get(i) ?? [] }));
    const byStart = new Map(parts.map((part) => [polyline([startOf(part)], false), part]));
    const cuts = [...byStart.keys()].map((chain) => ({ chains: [chain], depth: 0 }));
    return orderCuts(cuts, this.#maker.at).flatMap((chain) => byStart.get(chain) ?? []);
  }

  /** Heights of the passes. Ridges that one leaves on a floor are taken by the next, over its own depth. */
  #levels({ lines }: GrooveLines): number[] {
    const { cutter, contours, rest, limitDepthMm } = this.#plan;
    let deepest = contours.length > 0 ? limitDepthMm : 0;
    for (const { points } of lines) for (const { z } of points) deepest = Math.max(deepest, -z);
    if (deepest === 0) return [];
    const ridge = rest.rings.length > 0 ? Math.min(FLOOR_RIDGE_MM, cutter.stepDownMm / 2) : 0;
    return stepsDown(deepest, cutter.stepDownMm - ridge);
  }

  /** How far the cutter goes in the time that it takes up, over and down again. */
  #retraceMm(z: number): number {
    const { clearanceMm, approachMm, machine } = this.#plan.settings;
    const { feedMmPerMin, plungeMmPerMin } = this.#plan.cutter;
    const minutes =
      (2 * clearanceMm - z - approachMm) / machine.rapidMmPerMin + (approachMm - z) / plungeMmPerMin;
    return feedMmPerMin * minutes;
  }

  /** Straight ways over the floor between the places where lines come out on it. */
  #bridges({ onFloor }: GrooveLines): Bridge[] {
    const places = [...onFloor];
    const longest = this.#retraceMm(-this.#plan.limitDepthMm);
    const index = new BoxIndex(places.map(([, point]) => boundsOf([point])));
    return places.flatMap(([from, a], i) =>
      index.near(boundsOf([a]), longest).flatMap((j) => {
        const [to, b] = places[j] ?? [from, a];
        return j > i && from !== to && this.#floor.clear(a, b, 0) ? [{ from, to }] : [];
      }),
    );
  }

  /** Down from `before` to `z` along the wall, then once round. */
  #wall(ring: RingRuler, before: number, z: number): void {
    const { feedMmPerMin, plungeMmPerMin } = this.#plan.cutter;
    const begin = ring.nearest(this.#maker.at);
    const { point } = ring.at(begin);
    if (this.#isLinked(point, before)) {
      this.#maker.lineTo(point.x, point.y, before, feedMmPerMin);
    } else {
      this.#maker.rapidOver(point.x, point.y);
      this.#maker.lineTo(point.x, point.y, before, plungeMmPerMin);
    }
    const down = this.#plan.settings.plungeAllowed ? 0 : (before - z) / this.#slope;
    const length = Math.min(down, MOST_RAMP_ROUNDS * ring.length);
    if (length > 0) this.#maker.follow(ring.part(begin, begin + length), z, plungeMmPerMin);
    else this.#maker.lineTo(point.x, point.y, z, plungeMmPerMin);
    this.#maker.follow(ring.part(begin + length, begin + length + ring.length), z, feedMmPerMin);
  }

  /** Whether the cutter is at this depth and goes straight there over the floor sooner than up and over. */
  #isLinked(to: Point, z: number): boolean {
    const { at } = this.#maker;
    if (at.z !== z || z >= 0) return false;
    const apart = distance(at, to);
    return apart <= SAME_POINT_MM || (apart <= this.#retraceMm(z) && this.#floor.clear(at, to, 0));
  }

  /** Passes from an area's edge inward; the edge itself is cut before, along the wall or by the mill. */
  #area({ edge, passes }: FloorArea, z: number): void {
    let outer = (to: Point) => nearestOnRings(edge.rings, to);
    for (const rings of passes) {
      for (const ring of rings) this.#pass(ring, outer, z);
      outer = (to) => nearestOnRulers(rings, to);
    }
  }

  #pass(ring: RingRuler, outer: (to: Point) => Point, z: number): void {
    const { feedMmPerMin, plungeMmPerMin } = this.#plan.cutter;
    let begin = ring.nearest(this.#maker.at);
    if (!this.#isLinked(ring.at(begin).point, z)) {
      // Down where the pass outside of it went, as near as that comes.
      const entry = outer(ring.at(0).point);
      begin = ring.nearest(entry);
      this.#maker.rapidOver(entry.x, entry.y);
      this.#maker.lineTo(entry.x, entry.y, z, plungeMmPerMin);
    }
    this.#maker.followFrom(ring.part(begin, begin + ring.length), z, feedMmPerMin);
  }

  #stroke({ points, open }: Stroke, before: number): void {
    const [start] = points;
    if (!start) return;
    const { plungeMmPerMin } = this.#plan.cutter;
    this.#maker.rapidOver(start.x, start.y);
    if (!open && !this.#plan.settings.plungeAllowed) {
      this.#maker.lineTo(start.x, start.y, before, plungeMmPerMin);
      for (const { x, y, z } of rampDown(points, before, this.#slope))
        this.#maker.lineTo(x, y, z, plungeMmPerMin);
    }
    this.#maker.lineTo(start.x, start.y, start.z, plungeMmPerMin);
    for (const point of points) this.#cutTo(point);
  }

  /** At the feed, but going down no faster than a plunge does. */
  #cutTo({ x, y, z }: Place3): void {
    const { feedMmPerMin, plungeMmPerMin } = this.#plan.cutter;
    const { at } = this.#maker;
    const down = at.z - z;
    const length = Math.hypot(x - at.x, y - at.y, down);
    const steepest = down > 0 ? (plungeMmPerMin * length) / down : feedMmPerMin;
    this.#maker.lineTo(x, y, z, Math.min(feedMmPerMin, steepest));
  }
}

function areaOf(edge: Region, stepMm: number): FloorArea {
  const passes = passesInside(edge, stepMm).map(({ rings }) =>
    rings.map((ring) => new RingRuler(ringChain(ring, 2 * FLOOR_CHORD_MM))),
  );
  return { edge, passes };
}

function startOf({ walls }: FloorPart): Point {
  return walls[0]?.at(0).point ?? { x: 0, y: 0 };
}

function boxHolds({ minX, minY, maxX, maxY }: Bounds, { x, y }: Point): boolean {
  return x >= minX && x <= maxX && y >= minY && y <= maxY;
}

function nearestOnRings(rings: readonly Ring[], to: Point): Point {
  const found = rings.flatMap((ring) =>
    ring.map((from, i) => nearestOn({ from, to: ring[(i + 1) % ring.length] ?? from, bulge: 0 }, to)),
  );
  return nearestOf(found, to);
}

function nearestOnRulers(rulers: readonly RingRuler[], to: Point): Point {
  return nearestOf(
    rulers.map((ruler) => ruler.at(ruler.nearest(to)).point),
    to,
  );
}

function nearestOf(points: readonly Point[], to: Point): Point {
  return points.reduce(
    (best, point) => (distance(point, to) < distance(best, to) ? point : best),
    points[0] ?? to,
  );
}
