/**
 * Bridges that hold the parts of a pierced piece together: as few and as short as can be. The
 * nearest distances between parts are a graph; its least spanning tree (Prim, "Shortest
 * connection networks and some generalizations", Bell System Technical Journal 36, 1957) has one
 * bridge fewer than there are parts, and none of its lines runs across a third part, for that one
 * would be nearer to both.
 */
import { OUTPUT_GRID_MM, SAME_POINT_MM } from "../../base/tolerance.ts";
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import { along, between, distance, leftOf, minus, type Point, unit, type Vec } from "../../geometry/point.ts";
import { type Region, regionHolds } from "../../geometry/region.ts";
import { type Transform, transformPoint } from "../../geometry/transform.ts";
import { type BridgeSite, PartEdges, type PartPair } from "./part-edges.ts";

export interface Bridge extends BridgeSite {
  /** Across the opening. */
  readonly lengthMm: number;
  /** A box as wide as asked that reaches into both parts. */
  readonly outline: ArcChain;
  /** Whether both of its ends lie wholly within the parts. */
  readonly held: boolean;
}

export interface SeparatePart {
  readonly region: Region;
  readonly chains: readonly ArcChain[];
}

export interface BridgeOptions {
  readonly widthMm: number;
  /** First distance at which neighbours are looked for; wider ones follow. */
  readonly reachMm: number;
  /** When given, bridges stand in every place that these bring one to. */
  readonly symmetries?: readonly Transform[];
}

/** The first part is the one that all others are held by, as directly as there is a choice. */
export function bridgeParts(parts: readonly SeparatePart[], options: BridgeOptions): Bridge[] {
  if (parts.length < 2) return [];
  const edges = new PartEdges(parts.map(({ chains }) => chains));
  const pairs = connectingPairs(edges, parts.length, options.reachMm);
  const stepMm = options.widthMm / 4;
  const sites = options.symmetries
    ? symmetricSites(edges, pairs, { ...options, symmetries: options.symmetries, parts: parts.length })
    : leastTree(pairs, parts.length).map((pair) => edges.site(pair, stepMm));
  return sites.map((site) => bridgeAt(site, parts, options.widthMm));
}

/** All pairs up to the distance at which everything hangs together: the least tree is among them. */
function connectingPairs(edges: PartEdges, parts: number, reachMm: number): PartPair[] {
  for (let within = reachMm; ; within *= 2) {
    const pairs = edges.pairs(within);
    const groups = new Groups(parts);
    for (const { a, b } of pairs) groups.join(a, b);
    if (groups.count === 1) return pairs;
  }
}

interface Reached {
  readonly pair: PartPair;
  /** How many bridges lie between the part and the first one. */
  readonly depth: number;
}

/** Of equally short pairs the one that hangs on fewest others. */
function leastTree(pairs: readonly PartPair[], parts: number): PartPair[] {
  const pairsOf: PartPair[][] = Array.from({ length: parts }, () => []);
  for (const pair of pairs) {
    pairsOf[pair.a]?.push(pair);
    pairsOf[pair.b]?.push(pair);
  }
  const waiting = new Map<number, Reached>();
  const isIn = new Uint8Array(parts);
  const tree: PartPair[] = [];
  const add = (part: number, depth: number) => {
    isIn[part] = 1;
    waiting.delete(part);
    for (const pair of pairsOf[part] ?? []) {
      const other = pair.a === part ? pair.b : pair.a;
      const found = { pair, depth: depth + 1 };
      const known = waiting.get(other);
      if (isIn[other] === 0 && (!known || isBetter(found, known))) waiting.set(other, found);
    }
  };
  add(0, 0);
  while (waiting.size > 0) {
    const [part, { pair, depth }] = [...waiting].reduce((best, next) =>
      isBetter(next[1], best[1]) ? next : best,
    );
    tree.push(pair);
    add(part, depth);
  }
  return tree;
}

function isBetter(a: Reached, b: Reached): boolean {
  const steps = ({ pair }: Reached) => Math.round(pair.distance / OUTPUT_GRID_MM);
  return steps(a) < steps(b) || (steps(a) === steps(b) && a.depth < b.depth);
}

/** Images of a site nearer than this are one. */
const SAME_SITE_MM = 0.1;

/** Sites with all their images, shortest first, as long as they join something (Kruskal's order). */
function symmetricSites(
  edges: PartEdges,
  pairs: readonly PartPair[],
  {
    symmetries,
    widthMm,
    parts,
  }: { readonly symmetries: readonly Transform[]; readonly widthMm: number; readonly parts: number },
): BridgeSite[] {
  const groups = new Groups(parts);
  const sites: BridgeSite[] = [];
  const steps = (pair: PartPair) => Math.round(pair.distance / OUTPUT_GRID_MM);
  for (const pair of pairs.toSorted((p, q) => steps(p) - steps(q) || p.a - q.a || p.b - q.b)) {
    if (groups.same(pair.a, pair.b)) continue;
    const site = onAxis(edges.site(pair, widthMm / 4), symmetries, widthMm);
    const settled = edges.settled(site, 2 * (pair.distance + widthMm));
    for (const image of imagesOf(settled, symmetries)) {
      const a = edges.partAt(image.onA, SAME_SITE_MM);
      const b = edges.partAt(image.onB, SAME_SITE_MM);
      if (a === undefined || b === undefined || a === b) continue;
      groups.join(a, b);
      sites.push({ ...image, a, b });
    }
  }
  return sites;
}

/** A site that its own images would overlap is moved to the middle of them. */
function onAxis(site: BridgeSite, symmetries: readonly Transform[], widthMm: number): BridgeSite {
  let count = 0;
  const sum = { ax: 0, ay: 0, bx: 0, by: 0 };
  for (const by of symmetries) {
    const image = imageOf(site, by);
    if (distance(middle(site), middle(image)) >= widthMm) continue;
    const isTurned = distance(site.onA, image.onA) > distance(site.onA, image.onB);
    const [a, b] = isTurned ? [image.onB, image.onA] : [image.onA, image.onB];
    count++;
    sum.ax += a.x;
    sum.ay += a.y;
    sum.bx += b.x;
    sum.by += b.y;
  }
  return {
    ...site,
    onA: { x: sum.ax / count, y: sum.ay / count },
    onB: { x: sum.bx / count, y: sum.by / count },
  };
}

function imageOf(site: BridgeSite, by: Transform): BridgeSite {
  return { ...site, onA: transformPoint(site.onA, by), onB: transformPoint(site.onB, by) };
}

function imagesOf(site: BridgeSite, symmetries: readonly Transform[]): BridgeSite[] {
  const images: BridgeSite[] = [];
  for (const by of symmetries) {
    const image = imageOf(site, by);
    const isKnown = images.some((known) => distance(middle(known), middle(image)) < SAME_SITE_MM);
    if (!isKnown) images.push(image);
  }
  return images;
}

function middle({ onA, onB }: BridgeSite): Point {
  return between(onA, onB, 0.5);
}

/** How far a bridge reaches into a part, in its widths: the first at which its whole end lies inside. */
const REACHES = [0.25, 0.5, 0.75, 1, 1.5, 2];

function bridgeAt(site: BridgeSite, parts: readonly SeparatePart[], widthMm: number): Bridge {
  const { onA, onB } = site;
  const lengthMm = distance(onA, onB);
  // Parts that touch are bridged any way.
  const ahead: Vec = lengthMm > SAME_POINT_MM ? unit(minus(onB, onA)) : { x: 1, y: 0 };
  const back: Vec = { x: -ahead.x, y: -ahead.y };
  const start = endWithin(parts[site.a], onA, { into: back, widthMm });
  const end = endWithin(parts[site.b], onB, { into: ahead, widthMm });
  const [a, b] = start.corners;
  const [c, d] = end.corners;
  return { ...site, lengthMm, outline: polyline([b, c, d, a], true), held: start.isInside && end.isInside };
}

/** The two corners of a bridge's end, right of its direction first. */
function endWithin(
  part: SeparatePart | undefined,
  at: Point,
  { into, widthMm }: { readonly into: Vec; readonly widthMm: number },
): { readonly corners: readonly [Point, Point]; readonly isInside: boolean } {
  const aside = leftOf(into);
  const cornersAt = (reach: number) => {
    const end = along(at, into, reach * widthMm);
    return [along(end, aside, -widthMm / 2), along(end, aside, widthMm / 2)] as const;
  };
  for (const reach of REACHES) {
    const corners = cornersAt(reach);
    if (part && corners.every((corner) => regionHolds(part.region, corner)))
      return { corners, isInside: true };
  }
  return { corners: cornersAt(REACHES[0] ?? 0), isInside: false };
}

/** Which parts hang together (union-find). */
class Groups {
  count: number;
  readonly #parent: Int32Array;

  constructor(size: number) {
    this.count = size;
    this.#parent = Int32Array.from({ length: size }, (_, i) => i);
  }

  join(a: number, b: number): void {
    const [p, q] = [this.#root(a), this.#root(b)];
    if (p === q) return;
    this.#parent[p] = q;
    this.count--;
  }

  same(a: number, b: number): boolean {
    return this.#root(a) === this.#root(b);
  }

  #root(at: number): number {
    let root = at;
    while ((this.#parent[root] ?? root) !== root) root = this.#parent[root] ?? root;
    let next = at;
    while (next !== root) {
      const after = this.#parent[next] ?? root;
      this.#parent[next] = root;
      next = after;
    }
    return root;
  }
}
