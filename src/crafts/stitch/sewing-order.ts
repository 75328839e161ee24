/**
 * In which order units are sewn, by which threads, and how the needle comes from one to the next
 * unseen: each tree of a block (hidden-forest.ts) is one thread, begun at its root and finished
 * there. On the way out along a unit its underlay is laid, which is the way itself; on the way back
 * it gets its cover.
 */
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import { distance, type Point } from "../../geometry/point.ts";
import { orderCuts } from "../cut-order.ts";
import { type ColourBlocks, colourBlocks } from "./colour-blocks.ts";
import { type Child, type Forest, growForest, leastTrees } from "./hidden-forest.ts";
import type { StitchSettings } from "./settings.ts";
import { UnitLines } from "./unit-lines.ts";
import { farPort, type Port, type SewUnits, sectionsBeneath, unitAt } from "./units.ts";

export type SewStep =
  /** A thread begins: at a block's first place, or after a trim. */
  | { readonly kind: "begin"; readonly unit: number; readonly at: Port }
  /** A running line from port to port, within a unit that has no cover yet. */
  | { readonly kind: "pass"; readonly unit: number; readonly from: Port; readonly to: Port }
  /** The unit's underlay, from this end to the other. */
  | { readonly kind: "underlay"; readonly unit: number; readonly from: Port }
  /** The unit's cover, from the other end to this one. */
  | { readonly kind: "cover"; readonly unit: number; readonly to: Port }
  /** The thread is tied off and cut. */
  | { readonly kind: "end" };

export interface OrderBlock {
  readonly colour: number;
  /** The strands that are sewn in it. */
  readonly strands: readonly number[];
  readonly steps: readonly SewStep[];
}

export interface OrderReport {
  /** Threads cut within blocks; the change from block to block cuts once more. */
  readonly trims: number;
  /** No order with the same blocks has fewer. */
  readonly trimsLowerBound: number;
  /** Moves of the hoop without sewing: after trims, and to the first place of each block but the first. */
  readonly jumps: number;
  readonly jumpLengthMm: number;
  /** Running lines that are nobody's underlay, by what is still without cover when they are sewn. */
  readonly hiddenTravelMm: number;
  readonly visibleTravelMm: number;
  readonly colourChanges: number;
  readonly colourChangesLowerBound: number;
}

export interface SewingOrder {
  readonly units: SewUnits;
  readonly blocks: readonly OrderBlock[];
  readonly report: OrderReport;
}

/** The order with the fewest colour changes, then the fewest trims; nothing shows but cover. */
export function planOrder(units: SewUnits, settings: Pick<StitchSettings, "colours">): SewingOrder {
  const lines = new UnitLines(units);
  const { dealt, threads } = fewestThreads(units, settings.colours);
  const blocks: { colour: number; strands: Set<number>; steps: SewStep[] }[] = [];
  let at: Point = { x: 0, y: 0 };
  for (const [block, colour] of dealt.colours.entries()) {
    let into = blocks.at(-1);
    if (into?.colour !== colour) {
      into = { colour, strands: new Set(), steps: [] };
      blocks.push(into);
    }
    const forest = growForest(units, dealt.blockOf, block);
    const isOwn = (unit: number) => dealt.blockOf[unit] === block;
    const trees = forest.roots.map((root) => treeSteps(units, forest, root, isOwn));
    for (const steps of inShortOrder(trees, lines, at)) {
      for (const step of steps) into.steps.push(step);
      at = endOf(steps, lines) ?? at;
    }
    for (const [number, unit] of units.list.entries()) if (isOwn(number)) into.strands.add(unit.strand);
  }
  const made = blocks.map((block) => ({ ...block, strands: [...block.strands].sort((a, b) => a - b) }));
  return { units, blocks: made, report: measureOrder(lines, made, dealt.leastChanges, threads) };
}

/** Of the ways to deal units out to blocks the one that needs the fewest threads, and how many. */
function fewestThreads(
  units: SewUnits,
  colours: StitchSettings["colours"],
): { readonly dealt: ColourBlocks; readonly threads: number } {
  const ways = colourBlocks(units, colours).map((dealt) => ({
    dealt,
    threads: dealt.colours.reduce((sum, _, block) => sum + leastTrees(units, dealt.blockOf, block), 0),
  }));
  return ways.reduce((best, way) => (way.threads < best.threads ? way : best));
}

type Task = SewStep | { readonly kind: "visit"; readonly child: Child };

/** One thread: a walk round a tree, from its root and back to it. */
function treeSteps(
  units: SewUnits,
  forest: Forest,
  root: number,
  isOwn: (unit: number) => boolean,
): SewStep[] {
  const steps: SewStep[] = [];
  const childrenOf = (unit: number) => forest.children.get(unit) ?? [];
  const atRoot = childrenOf(root);
  const home = units.list[root] && isOwn(root) ? freeEnd(atRoot) : undefined;
  const start = atRoot.find(({ at }) => home === undefined || at !== farPort(home))?.at ?? home ?? 0;
  const tasks: Task[] = [
    { kind: "begin", unit: root, at: start },
    ...unitTasks({ unit: root, children: atRoot, own: isOwn(root), start, home }),
    { kind: "end" },
  ];
  tasks.reverse();
  for (let task = tasks.pop(); task; task = tasks.pop()) {
    if (task.kind !== "visit") {
      steps.push(task);
      continue;
    }
    const { unit, port } = task.child;
    const visit = { unit, children: childrenOf(unit), own: isOwn(unit), start: port, home: port };
    for (const next of unitTasks(visit).reverse()) tasks.push(next);
  }
  return steps;
}

/** The end of a root at which its cover may end: the needle comes back from nothing there, if it can be had. */
function freeEnd(children: readonly Child[]): Port {
  const taken = (port: Port) => children.some(({ at }) => at === port);
  return taken(0) && !taken(1) ? 1 : 0;
}

interface Visit {
  readonly unit: number;
  readonly children: readonly Child[];
  readonly own: boolean;
  readonly start: Port;
  /** Where the needle must be in the end; undefined where it may stay. */
  readonly home: Port | undefined;
}

/** What is done from coming to a unit until leaving it. */
function unitTasks({ unit, children, own, start, home }: Visit): Task[] {
  const tasks: Task[] = [];
  let at = start;
  const go = (to: Port) => {
    if (at !== to) tasks.push({ kind: "pass", unit, from: at, to });
    at = to;
  };
  const beyond = own && home !== undefined ? farPort(home) : undefined;
  for (const child of children) {
    if (child.at === beyond) continue;
    go(child.at);
    tasks.push({ kind: "visit", child });
  }
  if (home !== undefined) go(home);
  if (!own || home === undefined) return tasks;
  tasks.push({ kind: "underlay", unit, from: home });
  for (const child of children) if (child.at === beyond) tasks.push({ kind: "visit", child });
  tasks.push({ kind: "cover", unit, to: home });
  return tasks;
}

/** Threads one after another so that the hoop moves little between them. */
function inShortOrder(
  threads: readonly SewStep[][],
  lines: UnitLines,
  from: Point,
): readonly (readonly SewStep[])[] {
  const ways = new Map<ArcChain, readonly SewStep[]>();
  for (const steps of threads) {
    const start = startOf(steps, lines);
    const end = endOf(steps, lines);
    if (start && end) ways.set(polyline([start, end], false), steps);
  }
  const chains = orderCuts(
    [...ways.keys()].map((chain) => ({ chains: [chain], depth: 0 })),
    from,
  );
  return chains.map((chain) => ways.get(chain) ?? []);
}

function startOf([step]: readonly SewStep[], lines: UnitLines): Point | undefined {
  return step?.kind === "begin" ? lines.portPoint(step.unit, step.at) : undefined;
}

/** Where a thread ends: the last unit that it covers. */
function endOf(steps: readonly SewStep[], lines: UnitLines): Point | undefined {
  const last = steps.findLast((step) => step.kind === "cover");
  return last ? lines.portPoint(last.unit, last.to) : undefined;
}

/** Reads the steps as they stand, whatever led to them. */
function measureOrder(
  lines: UnitLines,
  blocks: readonly OrderBlock[],
  leastChanges: number,
  leastThreads: number,
): OrderReport {
  const covered = new Set<number>();
  let [threads, jumpLengthMm, hiddenTravelMm, visibleTravelMm] = [0, 0, 0, 0];
  let at: Point | undefined;
  for (const step of blocks.flatMap(({ steps }) => steps)) {
    if (step.kind === "begin") {
      const start = lines.portPoint(step.unit, step.at);
      if (at) jumpLengthMm += distance(at, start);
      threads++;
    } else if (step.kind === "pass") {
      const length = lines.passLength(step.unit, step.from, step.to);
      if (covered.has(step.unit)) visibleTravelMm += length;
      else hiddenTravelMm += length;
    } else if (step.kind === "cover") {
      covered.add(step.unit);
      at = lines.portPoint(step.unit, step.to);
    }
  }
  return {
    trims: threads - blocks.length,
    trimsLowerBound: leastThreads - blocks.length,
    jumps: Math.max(0, threads - 1),
    jumpLengthMm,
    hiddenTravelMm,
    visibleTravelMm,
    colourChanges: Math.max(0, blocks.length - 1),
    colourChangesLowerBound: leastChanges,
  };
}

/** The first broken law of an order, in words for tests and checks; undefined when all hold. */
export function orderTrouble({ units, blocks }: SewingOrder): string | undefined {
  const covered = new Set<number>();
  for (const step of blocks.flatMap(({ steps }) => steps)) {
    if (step.kind === "end") continue;
    if (covered.has(step.unit)) return `unit ${step.unit} is sewn in after its cover`;
    if (step.kind !== "cover") continue;
    const early = sectionsBeneath(unitAt(units, step.unit)).find(({ unit }) => !covered.has(unit));
    if (early) return `section ${early.unit} is sewn after the patch above it`;
    covered.add(step.unit);
  }
  const left = units.list.findIndex((_, number) => !covered.has(number));
  return left < 0 ? undefined : `unit ${left} is never sewn`;
}
