/**
 * A stitch plan: what the needle does, thread by thread, in sewing order. mm, y up, origin at the
 * lower left corner of the finished piece. Points lie in flat arrays: a large panel has millions.
 */
import type { Bounds } from "../geometry/bounds.ts";

/** How the needle gets to a point: sewing, moving without sewing, or moving after the thread was cut. */
export const STITCH = 0;
export const JUMP = 1;
export const TRIM = 2;

/** What a stitch is for. Only cover stitches are to be seen. */
export const ROLES = ["tie", "travel", "underlay", "cover", "mark"] as const;
export type StitchRole = (typeof ROLES)[number];

export interface Thread {
  /** For people: "thread 1, strand A". */
  readonly name: string;
  /** For pictures, e.g. "#b5832e": the record itself holds no colours. */
  readonly colour: string;
  /** Linear density, g per 1000 m (ISO 1144). */
  readonly tex: number;
  /** Width of the laid thread. */
  readonly widthMm: number;
}

/** What is sewn with one thread between two changes. */
export interface ThreadBlock {
  readonly thread: Thread;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** STITCH, JUMP or TRIM: how each point is come to. */
  readonly kind: Uint8Array;
  /** Index into ROLES. */
  readonly role: Uint8Array;
}

export interface StitchPlan {
  readonly title: string;
  /** Facts and cautions for people, one line each. */
  readonly notes: readonly string[];
  readonly bounds: Bounds;
  /** In sewing order; the machine stops for a change of thread between them. */
  readonly blocks: readonly ThreadBlock[];
}

/** Collects the points of one block. */
export class StitchMaker {
  readonly #x: number[] = [];
  readonly #y: number[] = [];
  readonly #kind: number[] = [];
  readonly #role: number[] = [];

  get count(): number {
    return this.#x.length;
  }

  add(x: number, y: number, kind: typeof STITCH | typeof JUMP | typeof TRIM, role: StitchRole): void {
    this.#x.push(x);
    this.#y.push(y);
    this.#kind.push(kind);
    this.#role.push(ROLES.indexOf(role));
  }

  made(thread: Thread): ThreadBlock {
    return {
      thread,
      x: Float64Array.from(this.#x),
      y: Float64Array.from(this.#y),
      kind: Uint8Array.from(this.#kind),
      role: Uint8Array.from(this.#role),
    };
  }
}
