/**
 * What a router is told to do: cutters and their motions. mm, y up, origin at the lower left
 * corner of the finished piece; z = 0 is the upper face of the stock, below it is negative.
 * A writer moves all that to the origin that the carver sets on the machine.
 */

/** The part of a cutter that cuts, as a body of revolution with its lowest point at height 0. */
export type CutterShape =
  | { readonly kind: "end-mill"; readonly diameterMm: number }
  | { readonly kind: "ball"; readonly diameterMm: number }
  /** A cone. The angle is the full included one; a flat tip of `tipMm` across cuts as an end mill does. */
  | {
      readonly kind: "v";
      readonly diameterMm: number;
      readonly angleDeg: number;
      readonly tipMm: number;
    };

export interface Cutter {
  /** Number in the machine's tool table. */
  readonly number: number;
  readonly name: string;
  readonly shape: CutterShape;
  readonly flutes: number;
  /** Height of the cutting edges: no cut may be deeper. */
  readonly cuttingLengthMm: number;
}

/** A motion begins where the one before it ended. */
export type Motion =
  | { readonly kind: "rapid"; readonly x: number; readonly y: number; readonly z: number }
  | {
      readonly kind: "line";
      readonly x: number;
      readonly y: number;
      readonly z: number;
      readonly feedMmPerMin: number;
    }
  /** In the plane of x and y, at most half a turn; a helix where z changes. */
  | {
      readonly kind: "arc";
      readonly x: number;
      readonly y: number;
      readonly z: number;
      readonly centreX: number;
      readonly centreY: number;
      readonly clockwise: boolean;
      readonly feedMmPerMin: number;
    };

export interface Place3 {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** All that is done with one cutter between two changes. */
export interface ToolRun {
  /** What it does, for people: "clear the ground", "cut the panel out". */
  readonly purpose: string;
  readonly cutter: Cutter;
  readonly spindleRpm: number;
  /** Where it comes down from: over the first motion, at the clearance height. */
  readonly start: Place3;
  readonly motions: readonly Motion[];
}

/** The box that the lowest point of any cutter stays in, mm. */
export interface Envelope {
  readonly min: Place3;
  readonly max: Place3;
}

export interface ToolProgram {
  readonly title: string;
  /** Stock set-up, cautions and facts, one line each, that the file carries at its head. */
  readonly notes: readonly string[];
  /** Where the machine's zero lies, mm from the lower left corner of the finished piece. */
  readonly originAt: { readonly x: number; readonly y: number };
  readonly envelope: Envelope;
  /** Height for rapid moves between cutters and to the first cut. */
  readonly clearanceZMm: number;
  readonly runs: readonly ToolRun[];
}

/** Height of the cutter's surface above its lowest point, at a distance from its axis; infinite past its radius. */
export function cutterHeight(shape: CutterShape, fromAxisMm: number): number {
  const radius = shape.diameterMm / 2;
  if (fromAxisMm > radius) return Number.POSITIVE_INFINITY;
  switch (shape.kind) {
    case "end-mill":
      return 0;
    case "ball":
      return radius - Math.sqrt(Math.max(0, radius * radius - fromAxisMm * fromAxisMm));
    case "v":
      return Math.max(0, fromAxisMm - shape.tipMm / 2) / Math.tan((shape.angleDeg * Math.PI) / 360);
  }
}
