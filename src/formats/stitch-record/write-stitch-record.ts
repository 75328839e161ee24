/**
 * Stitch plans as the trade's three-byte stitch record (extension .dst). It holds steps, not
 * places, and no colours: the machine stops where the next thread is to be put in.
 */
import { InternalError } from "../../base/internal-error.ts";
import { type Bounds, boundsOf } from "../../geometry/bounds.ts";
import { STITCH, type StitchPlan, type ThreadBlock, TRIM } from "../../output/stitches.ts";
import { HEADER_BYTES, headerBytes } from "./record-header.ts";
import { LONGEST_STEP, type StepKind, stepBytes } from "./step-bytes.ts";

/** Steps in one millimetre. */
const UNITS_PER_MM = 10;

/**
 * The plan as a file. The needle starts in the middle of the plan's bounds, to be put in the middle
 * of the hoop (common practice, no source); all lengths of the header are measured from there.
 *
 * - Places are rounded to 0.1 mm first and steps are their differences, so no error adds up.
 * - A longer way than a step holds is divided into jumps, and a stitch if it is one.
 * - A trim is a run of at least three jumps, by which machines know it (common practice, no source).
 * - Where sewing begins after a move the needle goes down once on the spot: the first stitch needs a
 *   hole to come from.
 * - The first point of a block is come to without sewing, for the thread is new.
 *
 * @throws InternalError for coordinates that are not finite, or a plan too large for the header.
 */
export function writeStitchRecord(plan: StitchPlan): Uint8Array {
  const middle = middleOf(plan.bounds);
  const tape = new Tape();
  for (const [i, block] of plan.blocks.entries()) {
    if (i > 0) tape.step(0, 0, "stop");
    sewBlock(tape, block, middle);
  }
  tape.step(0, 0, "end");
  const { minX, minY, maxX, maxY } = tape.extent;
  const header = headerBytes({
    title: plan.title,
    records: tape.records,
    colourChanges: Math.max(0, plan.blocks.length - 1),
    right: maxX,
    left: 0 - minX,
    up: maxY,
    down: 0 - minY,
    endX: tape.x,
    endY: tape.y,
  });
  const file = new Uint8Array(HEADER_BYTES + 3 * tape.records);
  file.set(header);
  file.set(tape.bytes, HEADER_BYTES);
  return file;
}

function middleOf({ minX, minY, maxX, maxY }: Bounds) {
  const isEmpty = minX > maxX || minY > maxY;
  return isEmpty ? { x: 0, y: 0 } : { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
}

function sewBlock(tape: Tape, { x, y, kind }: ThreadBlock, middle: { x: number; y: number }): void {
  let needleIsDown = false;
  for (let i = 0; i < x.length; i++) {
    const toX = toUnits((x[i] ?? Number.NaN) - middle.x);
    const toY = toUnits((y[i] ?? Number.NaN) - middle.y);
    const isStitch = kind[i] === STITCH && i > 0;
    if (isStitch) {
      if (!needleIsDown && (toX !== tape.x || toY !== tape.y)) tape.step(0, 0, "stitch");
      tape.moveTo(toX, toY, "stitch", 1);
    } else {
      tape.moveTo(toX, toY, "jump", kind[i] === TRIM ? TRIM_JUMPS : 1);
    }
    needleIsDown = isStitch;
  }
}

function toUnits(mm: number): number {
  const units = Math.round(mm * UNITS_PER_MM);
  if (!Number.isFinite(units)) throw new InternalError("a stitch that is to be written lies nowhere");
  return units;
}

/** So many jumps in a row tell the machine to cut the thread. */
const TRIM_JUMPS = 3;

/** A machine may pass over jumps of no length; each jump of a trim moves at least so many units. */
const LEAST_TRIM_STEP = 2;

/** The records written so far, and where they have led. */
class Tape {
  #bytes = new Uint8Array(3 * 1024);
  #length = 0;
  #x = 0;
  #y = 0;
  #extent: Bounds = boundsOf([{ x: 0, y: 0 }]);

  get records(): number {
    return this.#length / 3;
  }

  get bytes(): Uint8Array {
    return this.#bytes.subarray(0, this.#length);
  }

  get x(): number {
    return this.#x;
  }

  get y(): number {
    return this.#y;
  }

  get extent(): Bounds {
    return this.#extent;
  }

  /** In one step, or in as many as the way and `leastSteps` need, of which all but the last are jumps. */
  moveTo(x: number, y: number, kind: "stitch" | "jump", leastSteps: number): void {
    const [fromX, fromY] = [this.#x, this.#y];
    const way = Math.max(Math.abs(x - fromX), Math.abs(y - fromY));
    if (leastSteps > 1 && way < leastSteps * LEAST_TRIM_STEP) {
      this.#toAndFro(x, y);
      return;
    }
    if (way === 0 && kind === "jump") return;
    const steps = Math.max(leastSteps, Math.ceil(way / LONGEST_STEP));
    for (let i = 1; i < steps; i++) {
      const share = i / steps;
      this.#stepTo(Math.round(fromX + (x - fromX) * share), Math.round(fromY + (y - fromY) * share), "jump");
    }
    this.#stepTo(x, y, kind);
  }

  /** A trim with hardly a way to go: past the place towards the middle, and back to it in two jumps. */
  #toAndFro(x: number, y: number): void {
    const inward = x > 0 ? -1 : 1;
    this.#stepTo(x + 3 * LEAST_TRIM_STEP * inward, y, "jump");
    this.#stepTo(x + LEAST_TRIM_STEP * inward, y, "jump");
    this.#stepTo(x, y, "jump");
  }

  #stepTo(x: number, y: number, kind: StepKind): void {
    this.step(x - this.#x, y - this.#y, kind);
  }

  step(dx: number, dy: number, kind: StepKind): void {
    if (this.#length + 3 > this.#bytes.length) {
      const wider = new Uint8Array(2 * this.#bytes.length);
      wider.set(this.#bytes);
      this.#bytes = wider;
    }
    this.#bytes.set(stepBytes(dx, dy, kind), this.#length);
    this.#length += 3;
    this.#x += dx;
    this.#y += dy;
    const { minX, minY, maxX, maxY } = this.#extent;
    const isInside = this.#x >= minX && this.#x <= maxX && this.#y >= minY && this.#y <= maxY;
    if (isInside) return;
    this.#extent = {
      minX: Math.min(minX, this.#x),
      minY: Math.min(minY, this.#y),
      maxX: Math.max(maxX, this.#x),
      maxY: Math.max(maxY, this.#y),
    };
  }
}
