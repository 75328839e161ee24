/**
 * The part of a drawing that falls on a tile. Only that part is handed on: chains that miss the
 * tile are left out, long lines are cut where they leave it (their dashes go on as if they were
 * whole), and the rest is clipped by the page.
 */
import { type ArcChain, chainBounds, chainOf, restartChain, segmentsOf } from "../../geometry/arc-chain.ts";
import { type Bounds, boundsGap, boundsOf, growBounds } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { type Segment, segmentBounds, segmentLength } from "../../geometry/segment.ts";
import {
  followedBy,
  moveBy,
  type Transform,
  transformChain,
  transformPoint,
} from "../../geometry/transform.ts";
import type { PaperItem } from "../../output/paper.ts";

/** Lines of no more segments are not worth cutting. */
const SHORT_CHAIN = 12;
/** No letter of any typeface is wider or reaches further, in sizes of the type. */
const LETTER_REACH = 1.5;

type Plain = Exclude<PaperItem, { readonly kind: "group" | "marked" }>;

/** A chain of a line or an area, or an item that is drawn whole. */
interface Part {
  readonly box: Bounds;
  readonly source: Plain;
  readonly chain?: ArcChain;
  /** Of words and pixels: where they lie. */
  readonly by?: Transform;
  readonly clip?: Bounds;
}

export class TileContent {
  readonly #parts: readonly Part[];
  readonly #index: BoxIndex;

  /** `place` brings the items to the drawing's mm. */
  constructor(items: readonly PaperItem[], place: Transform = moveBy(0, 0)) {
    this.#parts = partsOf(items, place, undefined);
    this.#index = new BoxIndex(this.#parts.map(({ box }) => box));
  }

  /** How many vertices there are in all. */
  get vertexCount(): number {
    return this.#parts.reduce((sum, { chain }) => sum + (chain?.vertices.length ?? 0), 0);
  }

  /** What is to be seen within a box, in the order of the drawing; it may reach beyond the box. */
  within(box: Bounds): PaperItem[] {
    const numbers = this.#index.near(box, 0).sort((a, b) => a - b);
    const items: PaperItem[] = [];
    for (let i = 0; i < numbers.length; ) {
      const run: Part[] = [];
      const first = this.#parts[numbers[i] ?? 0];
      for (; i < numbers.length; i++) {
        const part = this.#parts[numbers[i] ?? 0];
        if (!first || !part || part.source !== first.source || part.clip !== first.clip) break;
        run.push(part);
      }
      if (!first) break;
      const own = itemsOf(first, run, box);
      if (first.clip && own.length > 0) items.push({ kind: "group", clip: first.clip, items: own });
      else items.push(...own);
    }
    return items;
  }
}

function partsOf(items: readonly PaperItem[], by: Transform, clip: Bounds | undefined): Part[] {
  return items.flatMap((item) => {
    switch (item.kind) {
      case "group": {
        const inner = item.transform ? followedBy(item.transform, by) : by;
        return partsOf(item.items, inner, item.clip ? meetOf(boxBy(item.clip, by), clip) : clip);
      }
      case "marked":
        return partsOf(item.items, by, clip);
      default:
        return plainParts(item, by, clip);
    }
  });
}

function plainParts(item: Plain, by: Transform, clip: Bounds | undefined): Part[] {
  const clipped = clip ? { clip } : {};
  switch (item.kind) {
    case "line":
    case "area": {
      const scale = Math.sqrt(Math.abs(by.a * by.d - by.b * by.c));
      const source = scaled(item, scale);
      const reach = strokeOf(source) / 2;
      return item.chains.map((own): Part => {
        const chain = transformChain(own, by);
        return { box: growBounds(chainBounds(chain), reach), source, chain, ...clipped };
      });
    }
    case "text": {
      const reach = item.sizeMm * LETTER_REACH * (item.text.length + 1) + (item.clearMm ?? 0);
      return [{ box: boxBy(growBounds(boundsOf([item.at]), reach), by), source: item, by, ...clipped }];
    }
    case "image":
      return [{ box: boxBy(item.bounds, by), source: item, by, ...clipped }];
  }
}

type Drawn = Extract<Plain, { readonly kind: "line" | "area" }>;

/** The look of a line or an area at another scale; its chains are kept apart. */
function scaled(item: Drawn, scale: number): Drawn {
  if (item.kind === "area") {
    const edge = item.edge && { colour: item.edge.colour, widthMm: item.edge.widthMm * scale };
    return { kind: "area", chains: [], fill: item.fill, ...(edge ? { edge } : {}) };
  }
  const { dash, widthMm, ...rest } = item;
  const lengthsMm = dash?.lengthsMm.map((length) => length * scale);
  return {
    ...rest,
    chains: [],
    widthMm: widthMm * scale,
    ...(lengthsMm ? { dash: { lengthsMm, phaseMm: (dash?.phaseMm ?? 0) * scale } } : {}),
  };
}

function strokeOf(item: Drawn): number {
  return item.kind === "line" ? item.widthMm : (item.edge?.widthMm ?? 0);
}

/** One item again of the parts that one item was taken into. */
function itemsOf({ source, by }: Part, run: readonly Part[], box: Bounds): PaperItem[] {
  const chains = run.map(({ chain }) => chain).filter((chain) => chain !== undefined);
  switch (source.kind) {
    // A hole or an outline that does not reach the box changes nothing within it.
    case "area":
      return [{ ...source, chains }];
    case "line":
      return linesWithin(source, chains, box);
    case "text":
    case "image":
      return [by ? { kind: "group", transform: by, items: [source] } : source];
  }
}

type Line = Extract<Plain, { readonly kind: "line" }>;

function linesWithin(source: Line, chains: readonly ArcChain[], box: Bounds): PaperItem[] {
  const near = growBounds(box, source.widthMm);
  const whole = chains.filter(({ vertices }) => vertices.length <= SHORT_CHAIN);
  const items: PaperItem[] = whole.length > 0 ? [{ ...source, chains: whole }] : [];
  for (const chain of chains) {
    if (chain.vertices.length <= SHORT_CHAIN) continue;
    for (const { stretch, startMm } of stretchesWithin(chain, near)) {
      const { dash } = source;
      const shifted = dash && { lengthsMm: dash.lengthsMm, phaseMm: (dash.phaseMm ?? 0) + startMm };
      items.push({ ...source, chains: [stretch], ...(shifted ? { dash: shifted } : {}) });
    }
  }
  return items;
}

interface Stretch {
  readonly stretch: ArcChain;
  /** How far along the chain it begins. */
  readonly startMm: number;
}

/** The stretches of a chain whose segments come into a box. */
function stretchesWithin(chain: ArcChain, box: Bounds): Stretch[] {
  const enters = (segment: Segment) => boundsGap(segmentBounds(segment), box) === 0;
  const away = chain.closed ? segmentsOf(chain).findIndex((segment) => !enters(segment)) : 0;
  if (away < 0) return [{ stretch: chain, startMm: 0 }];
  // A closed line is cut open where it is away from the box, so that no stretch runs over its seam.
  const segments = segmentsOf(restartChain(chain, away));
  const stretches: Stretch[] = [];
  let run: Segment[] = [];
  let startMm = 0;
  let passedMm = lengthOf(segmentsOf(chain).slice(0, away));
  const close = () => {
    if (run.length > 0) stretches.push({ stretch: chainOf(run, false), startMm });
    run = [];
  };
  for (const segment of segments) {
    if (enters(segment)) {
      if (run.length === 0) startMm = passedMm;
      run.push(segment);
    } else close();
    passedMm += segmentLength(segment);
  }
  close();
  return stretches;
}

function lengthOf(segments: readonly Segment[]): number {
  return segments.reduce((sum, segment) => sum + segmentLength(segment), 0);
}

function boxBy({ minX, minY, maxX, maxY }: Bounds, by: Transform): Bounds {
  const corners = [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: minX, y: maxY },
    { x: maxX, y: maxY },
  ];
  return boundsOf(corners.map((corner) => transformPoint(corner, by)));
}

function meetOf(a: Bounds, b: Bounds | undefined): Bounds {
  if (!b) return a;
  return {
    minX: Math.max(a.minX, b.minX),
    minY: Math.max(a.minY, b.minY),
    maxX: Math.min(a.maxX, b.maxX),
    maxY: Math.min(a.maxY, b.maxY),
  };
}
