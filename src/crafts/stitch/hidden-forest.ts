/**
 * The order within one block of thread, as a forest: a unit is sewn after its children, and the
 * needle then leaves it for its parent, beneath whose cover to come it walks on. So a tree needs
 * no trim, and all that shows of it is cover. Units of later blocks have no cover yet either: the
 * needle may walk beneath them, and they may stand between others in a tree.
 *
 * Which unit may be another's parent is a digraph. The parent of a section is the patch that
 * lies over its end, if that is sewn in the same block: so the patch comes after both its
 * sections. Every unit must reach a root, so each strongly connected group that nothing leads out
 * of needs a root of its own; and as many trees are enough.
 *
 * No order with the same blocks needs fewer threads. Whatever the order, a unit is left without
 * a trim only for one beside it that has no cover yet: a step of the digraph, or else one from a
 * section to the patch at its other end. Those *loose* steps lead out of no group that had no
 * way out: a section gets into such a group only by way of that same patch. `leastTrees` counts
 * the groups with loose steps allowed, so that the two can be compared.
 */
import { isBeneath, type Joint, type Port, type SewUnit, type SewUnits, unitAt } from "./units.ts";

/** Which block each unit is sewn in. */
export type BlockOf = ArrayLike<number>;

export interface Child extends Joint {
  /** The port of the parent at which it hangs; `port` is the child's own. */
  readonly at: Port;
}

export interface Forest {
  readonly roots: readonly number[];
  /** By unit; only those that must be walked to. */
  readonly children: ReadonlyMap<number, readonly Child[]>;
}

interface Digraph {
  readonly units: SewUnits;
  readonly blockOf: BlockOf;
  readonly block: number;
  readonly loose: boolean;
}

/** The trees of one block, as few as can be. */
export function growForest(units: SewUnits, blockOf: BlockOf, block: number): Forest {
  const graph: Digraph = { units, blockOf, block, loose: false };
  const own = unitsOfBlock(graph);
  const within = reached(graph, own);
  const roots = rootsOf(graph, within).map((root) => patchAbove(graph, root));
  const { order, parents } = spread(graph, roots, within);
  const children = new Map<number, Child[]>();
  const needed = new Set(own);
  for (const number of order.reverse()) {
    const parent = parents.get(number);
    if (!parent || !needed.has(number)) continue;
    needed.add(parent.unit);
    const siblings = children.get(parent.unit);
    const child = { unit: number, port: parent.childPort, at: parent.port };
    if (siblings) siblings.push(child);
    else children.set(parent.unit, [child]);
  }
  for (const siblings of children.values()) siblings.sort((a, b) => a.at - b.at);
  return { roots: roots.map((root) => firstFork(graph, root, children)), children };
}

/** A section that must come before a patch can't come last: that patch, of the same group, can. */
function patchAbove({ units, blockOf, block }: Digraph, root: number): number {
  if (blockOf[root] !== block) return root;
  const above = unitAt(units, root).joints.find((joint) => isBeneath(joint) && blockOf[joint.unit] === block);
  return above?.unit ?? root;
}

/** How many threads a block must begin at least. */
export function leastTrees(units: SewUnits, blockOf: BlockOf, block: number): number {
  const graph: Digraph = { units, blockOf, block, loose: true };
  return rootsOf(graph, reached(graph, unitsOfBlock(graph))).length;
}

/** A root of a later block with a single branch is no place to begin. */
function firstFork(
  { blockOf, block }: Digraph,
  root: number,
  children: ReadonlyMap<number, readonly Child[]>,
): number {
  let at = root;
  for (;;) {
    const [child, ...more] = children.get(at) ?? [];
    if (blockOf[at] === block || !child || more.length > 0) return at;
    at = child.unit;
  }
}

function unitsOfBlock({ units, blockOf, block }: Digraph): number[] {
  return [...units.list.keys()].filter((number) => blockOf[number] === block);
}

/** Whether the needle may leave a unit that has just got its cover by one of its ports. */
function mayLeave({ blockOf, block, loose }: Digraph, number: number, unit: SewUnit, port: Port): boolean {
  const joint = unit.joints[port];
  if (!joint || (blockOf[joint.unit] ?? -1) < block) return false;
  if (blockOf[number] !== block) return true;
  // The sections beneath a patch are sewn before it.
  if (unit.kind === "patch") return port < 2;
  if (loose || isBeneath(joint)) return true;
  return !unit.joints.some((other) => isBeneath(other) && blockOf[other.unit] === block);
}

/** All that the given units may lead to, themselves included. */
function reached(graph: Digraph, from: readonly number[]): Set<number> {
  const found = new Set(from);
  for (const number of found) {
    const unit = unitAt(graph.units, number);
    for (const [port, joint] of unit.joints.entries())
      if (mayLeave(graph, number, unit, port)) found.add(joint.unit);
  }
  return found;
}

/** One step against the digraph: a unit that may be a child of `number`, and at which port. */
function childAt(graph: Digraph, number: number, at: Port, within: ReadonlySet<number>): Joint | undefined {
  const joint = unitAt(graph.units, number).joints[at];
  if (!joint || !within.has(joint.unit)) return undefined;
  // The parent must be without cover too: `within` holds nothing else.
  return mayLeave(graph, joint.unit, unitAt(graph.units, joint.unit), joint.port) ? joint : undefined;
}

/**
 * One unit of each group that nothing leads out of. A first walk against the digraph gives the
 * order in which units are done with; taken from the last, whatever no earlier root reaches is a
 * root (the way of Kosaraju and Sharir to strongly connected components).
 */
function rootsOf(graph: Digraph, within: ReadonlySet<number>): number[] {
  const done: number[] = [];
  const seen = new Set<number>();
  for (const number of within) for (const at of walkDeep(graph, number, within, seen)) done.push(at);
  const roots: number[] = [];
  const covered = new Set<number>();
  for (const number of done.reverse()) {
    if (covered.has(number)) continue;
    roots.push(number);
    walkDeep(graph, number, within, covered);
  }
  return roots;
}

/** Depth first without recursion; gives the units that were new, each after all below it. */
function walkDeep(graph: Digraph, start: number, within: ReadonlySet<number>, seen: Set<number>): number[] {
  if (seen.has(start)) return [];
  seen.add(start);
  const done: number[] = [];
  const trail = [{ number: start, port: 0 }];
  for (let top = trail.at(-1); top; top = trail.at(-1)) {
    if (top.port >= unitAt(graph.units, top.number).joints.length) {
      done.push(top.number);
      trail.pop();
      continue;
    }
    const child = childAt(graph, top.number, top.port++, within);
    if (!child || seen.has(child.unit)) continue;
    seen.add(child.unit);
    trail.push({ number: child.unit, port: 0 });
  }
  return done;
}

interface Parent extends Joint {
  readonly childPort: Port;
}

/** Breadth first from the roots, so that ways are short. */
function spread(
  graph: Digraph,
  roots: readonly number[],
  within: ReadonlySet<number>,
): { readonly order: number[]; readonly parents: ReadonlyMap<number, Parent> } {
  const parents = new Map<number, Parent>();
  const seen = new Set(roots);
  for (const number of seen) {
    for (const port of unitAt(graph.units, number).joints.keys()) {
      const child = childAt(graph, number, port, within);
      if (!child || seen.has(child.unit)) continue;
      seen.add(child.unit);
      parents.set(child.unit, { unit: number, port, childPort: child.port });
    }
  }
  return { order: [...seen], parents };
}
