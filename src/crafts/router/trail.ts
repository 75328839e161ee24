/** Ways of a cutter's centre in the plane, each made at every step down, and how the cutter gets to its depth there. */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import {
  type ArcChain,
  chainLength,
  chainPart,
  chainStart,
  joinChains,
  reverseChain,
  type Vertex,
} from "../../geometry/arc-chain.ts";
import { distance, type Point } from "../../geometry/point.ts";
import type { RingRuler } from "./ring-ruler.ts";

export interface Trail {
  /** Open; all at one depth. */
  readonly chain: ArcChain;
  /** The ring that it begins on, and where: a ramp can run along it. */
  readonly loop?: { readonly ring: RingRuler; readonly at: number };
  /** Whether it is that ring once round and nothing else, which may begin anywhere. */
  readonly round: boolean;
}

/** A ramp that turns round or goes round more often than this bores rather than cuts. */
const MOST_RAMP_TURNS = 40;

/**
 * The way down to a trail's start, `lengthMm` long or a little more: along its ring, round and
 * round where that is short; where there is none, to and fro along its first stretch. Undefined
 * where there is no room to go down in.
 */
export function rampTo({ chain, loop }: Trail, lengthMm: number): ArcChain | undefined {
  if (!loop) return rampToAndFro(chain, lengthMm);
  const { ring, at } = loop;
  return lengthMm / ring.length > MOST_RAMP_TURNS ? undefined : ring.part(at - lengthMm, at);
}

/** Along the first stretch of an open chain and back to its start, as often as it takes. */
export function rampToAndFro(chain: ArcChain, lengthMm: number): ArcChain | undefined {
  const most = Math.min(chainLength(chain), lengthMm / 2);
  if (!(most > SAME_POINT_MM)) return undefined;
  const times = Math.ceil(lengthMm / (2 * most));
  if (2 * times > MOST_RAMP_TURNS) return undefined;
  const there = chainPart(chain, 0, lengthMm / (2 * times));
  const back = reverseChain(there);
  return joinChains(Array.from({ length: times }, () => [there, back]).flat(), false);
}

/** Draws a trail: stretches and straight links; links that lead nowhere are left out. */
export class TrailPen {
  readonly #vertices: Vertex[] = [];
  #links: Point[] = [];

  constructor(start: Point) {
    this.#vertices.push({ x: start.x, y: start.y, bulge: 0 });
  }

  /** Where the drawn stretches end. */
  get chain(): ArcChain {
    return { closed: false, vertices: this.#vertices };
  }

  link(to: Point): void {
    this.#links.push(to);
  }

  /** A stretch that begins where the last link ended. */
  run(stretch: ArcChain): void {
    if (stretch.vertices.length < 2) return;
    for (const point of this.#links) this.#straightTo(point);
    this.#links = [];
    this.#straightTo(chainStart(stretch));
    const last = this.#vertices.pop();
    const [first, ...others] = stretch.vertices;
    if (!last || !first) return;
    this.#vertices.push({ x: last.x, y: last.y, bulge: first.bulge }, ...others);
  }

  #straightTo({ x, y }: Point): void {
    const last = this.#vertices.at(-1);
    if (!last || distance(last, { x, y }) > SAME_POINT_MM) this.#vertices.push({ x, y, bulge: 0 });
  }
}
