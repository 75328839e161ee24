/** Random stitch plans, and plans of given points, for the writers of stitches. */
import fc from "fast-check";
import { boundsOf } from "../../src/geometry/bounds.ts";
import { JUMP, STITCH, StitchMaker, type StitchPlan, type Thread, TRIM } from "../../src/output/stitches.ts";

export const THREAD: Thread = { name: "thread 1", colour: "#8c3b2a", tex: 27, widthMm: 0.38 };

/** x, y in mm, and how the needle gets there. */
export type Move = readonly [x: number, y: number, kind: typeof STITCH | typeof JUMP | typeof TRIM];

/** A plan of one block for each list of moves; its bounds are 200 x 100 mm, so that the middle is at (100, 50). */
export function planOf(...blocks: readonly (readonly Move[])[]): StitchPlan {
  return {
    title: "Test piece",
    notes: [],
    bounds: boundsOf([
      { x: 0, y: 0 },
      { x: 200, y: 100 },
    ]),
    blocks: blocks.map((moves) => {
      const maker = new StitchMaker();
      for (const [x, y, kind] of moves) maker.add(x, y, kind, "cover");
      return maker.made(THREAD);
    }),
  };
}

export function randomPlan(): fc.Arbitrary<StitchPlan> {
  const coordinate = fc.double({ min: -40, max: 240, noNaN: true });
  const kind = fc.constantFrom(STITCH, STITCH, STITCH, JUMP, TRIM);
  const move = fc.tuple(coordinate, coordinate, kind);
  return fc
    .array(fc.array(move, { maxLength: 30 }), { minLength: 1, maxLength: 4 })
    .map((blocks) => planOf(...blocks));
}
