/** Designs composed without a file. */
import { explain } from "../../src/base/explain.ts";
import { done, type Fault, type Result } from "../../src/base/fault.ts";
import { type Composed, composeDesign } from "../../src/documents/compose-design.ts";
import type { WrittenComposition } from "../../src/documents/composition.ts";
import type { PieceContext } from "../../src/documents/draw-piece.ts";

export const PITCH = 10;

export type Layout = WrittenComposition["layout"];
export type Joins = WrittenComposition["joins"];
export type Pieces = WrittenComposition["pieces"];

export interface Options {
  readonly pitchMm?: PieceContext["pitchMm"];
  readonly corner?: PieceContext["corner"];
  /** The text of the one file beside the design. */
  readonly beside?: string;
}

export function compose(
  pieces: Pieces,
  layout: Layout,
  joins: Joins = [],
  { pitchMm = { across: PITCH, down: PITCH }, corner = "pointed", beside = "" }: Options = {},
): Result<Composed> {
  return composeDesign({ pieces, layout, joins }, { pitchMm, corner, readBeside: () => done(beside) });
}

export function composed(...design: Parameters<typeof compose>): Composed {
  const made = compose(...design);
  if (!made.ok) throw new Error(made.faults.map(explain).join(" "));
  return made.value;
}

export function faultOf(...design: Parameters<typeof compose>): Fault {
  const made = compose(...design);
  const [fault] = made.ok ? [] : made.faults;
  if (!fault) throw new Error("nothing was refused");
  return fault;
}
