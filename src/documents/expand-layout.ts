/**
 * A composition as it is written -> one whose pieces are all at hand and laid one by one:
 * included files are read, frames become ordinary entries and ties.
 *
 * A frame `f` lays its corner piece as `f.north-west`, `f.north-east`, `f.south-east` and
 * `f.south-west`, and its side piece as `f.north#1` … from left to right, `f.east#1` … from top
 * to bottom, and so on. All lie against the outer edge.
 */
import { done, type Fault, type Result, refused } from "../base/fault.ts";
import { boundsHeight, boundsWidth } from "../geometry/bounds.ts";
import { moveBy } from "../geometry/transform.ts";
import type {
  Composition,
  FrameEntry,
  JoinEntry,
  LayoutEntry,
  WrittenComposition,
  WrittenEntry,
} from "./composition.ts";
import { drawPiece, type PieceContext } from "./draw-piece.ts";
import { includePieces } from "./include-pieces.ts";

export interface ExpandedLayout {
  readonly composition: Composition;
  /** A fault of the expanded composition, told of the document as it is written. */
  readonly placed: (fault: Fault) => Fault;
}

type Path = readonly (string | number)[];

/** An expanded entry, and where it is written. */
interface Laid {
  readonly entry: LayoutEntry;
  readonly path: Path;
  /** The key there that names its piece. */
  readonly pieceKey: Path;
}

interface Tied {
  readonly join: JoinEntry;
  readonly path: Path;
}

/** Faults: `missing-key`, `unknown-key`, and those of included files and of a frame's pieces. */
export function expandLayout(written: WrittenComposition, context: PieceContext): Result<ExpandedLayout> {
  const gathered = includePieces(written, context.readBeside);
  if (!gathered.ok) return gathered;
  const { pieces, placed } = gathered.value;
  const laid: Laid[] = [];
  const ties: Tied[] = [];
  for (const [i, entry] of written.layout.entries()) {
    const expanded = entry.frame
      ? expandFrame(entry, entry.frame, pieces, context, ["layout", i])
      : pieceEntry(entry, ["layout", i]);
    if (!expanded.ok) return refused(...expanded.faults.map(placed));
    laid.push(...expanded.value.laid);
    ties.push(...expanded.value.ties);
  }
  const joins = [...ties.map(({ join }) => join), ...written.joins];
  return done({
    composition: { pieces, layout: laid.map(({ entry }) => entry), joins },
    placed: (fault) => placed({ ...fault, ...(fault.path && { path: writtenPath(fault.path, laid, ties) }) }),
  });
}

interface ExpandedEntry {
  readonly laid: readonly Laid[];
  readonly ties: readonly Tied[];
}

function pieceEntry(entry: WrittenEntry, path: Path): Result<ExpandedEntry> {
  const { frame: _frame, piece, at, ...rest } = entry;
  if (piece === undefined || at === undefined)
    return refused({ code: "missing-key", key: piece === undefined ? "piece" : "at", path });
  return done({ laid: [{ entry: { ...rest, piece, at }, path, pieceKey: ["piece"] }], ties: [] });
}

function expandFrame(
  entry: WrittenEntry,
  frame: FrameEntry,
  pieces: Composition["pieces"],
  context: PieceContext,
  path: Path,
): Result<ExpandedEntry> {
  const faults = keysBesideFrame(entry, path);
  if (faults.length > 0) return refused(...faults);
  const sizes = frameSizes(frame, pieces, context, [...path, "frame"]);
  if (!sizes.ok) return sizes;
  const { name = "frame", at = [0, 0] } = entry;
  const made = new Frame(frame, { name, at, ...sizes.value, pitchMm: context.pitchMm });
  const joins = frame.join === "tie" ? [...made.ties()] : [];
  return done({
    laid: [...made.entries()].map(({ entry: each, key }) => ({
      entry: each,
      path,
      pieceKey: ["frame", key],
    })),
    ties: joins.map((join) => ({ join, path: [...path, "frame", "join"] })),
  });
}

function writtenPath(path: Path, laid: readonly Laid[], ties: readonly Tied[]): Path {
  const [root, index, ...rest] = path;
  if (typeof index !== "number") return path;
  if (root === "layout") {
    const entry = laid[index];
    if (!entry) return path;
    return [...entry.path, ...(rest[0] === "piece" ? entry.pieceKey : rest)];
  }
  if (root !== "joins") return path;
  return ties[index]?.path ?? ["joins", index - ties.length, ...rest];
}

const FRAME_KEYS = ["name", "frame", "at"];

function keysBesideFrame(entry: WrittenEntry, path: Path): Fault[] {
  return Object.keys(entry)
    .filter((key) => !FRAME_KEYS.includes(key))
    .map((key) => ({ code: "unknown-key", found: key, known: FRAME_KEYS, path: [...path, key] }));
}

/** Of the box round a piece, as it is drawn, mm. */
interface Size {
  readonly width: number;
  readonly height: number;
}

function frameSizes(
  frame: FrameEntry,
  pieces: Composition["pieces"],
  context: PieceContext,
  path: Path,
): Result<{ readonly corner: Size; readonly side: Size }> {
  const size = (key: "corner" | "side"): Result<Size> => {
    const drawn = drawPiece(frame[key], pieces, context, [...path, key]);
    if (!drawn.ok) return drawn;
    const box = drawn.value.extent(moveBy(0, 0));
    return done({ width: boundsWidth(box), height: boundsHeight(box) });
  };
  const corner = size("corner");
  if (!corner.ok) return corner;
  const side = size("side");
  return side.ok ? done({ corner: corner.value, side: side.value }) : side;
}

const SIDES = ["north", "east", "south", "west"] as const;
const CORNERS = ["north-west", "north-east", "south-east", "south-west"] as const;

/** How the pieces of the four sides and corners lie, clockwise from the top and the top left. */
const LIES = {
  turned: {
    sides: [{}, { turn: -90 }, { turn: 180 }, { turn: 90 }],
    corners: [{}, { turn: -90 }, { turn: 180 }, { turn: 90 }],
  },
  // Top to bottom is left to right, and half a turn.
  mirrored: {
    sides: [{}, { turn: -90 }, { mirror: true, turn: 180 }, { mirror: true, turn: 90 }],
    corners: [{}, { mirror: true }, { turn: 180 }, { mirror: true, turn: 180 }],
  },
} as const satisfies Readonly<
  Record<string, Readonly<Record<string, readonly Pick<LayoutEntry, "turn" | "mirror">[]>>>
>;

interface FrameOptions {
  readonly name: string;
  /** Cells. */
  readonly at: readonly [number, number];
  readonly corner: Size;
  readonly side: Size;
  readonly pitchMm: PieceContext["pitchMm"];
}

/**
 * Where everything lies. Each side is walked clockwise: `along` runs from the outer edge of the
 * corner that it begins with, `depth` inward from the outer edge; mm.
 */
class Frame {
  readonly #frame: FrameEntry;
  readonly #options: FrameOptions;
  /** Of the corners as they lie. */
  readonly #corners: readonly Size[];
  readonly #whole: Size;

  constructor(frame: FrameEntry, options: FrameOptions) {
    this.#frame = frame;
    this.#options = options;
    const { corner, side, pitchMm } = options;
    const { across, down, gap = DEFAULT_GAP } = frame;
    const turns = frame.form !== "mirrored";
    const beside = turns ? { width: corner.height, height: corner.width } : corner;
    this.#corners = [corner, beside, corner, beside];
    this.#whole = {
      width: corner.width + beside.width + across * side.width + (across + 1) * gap * pitchMm.across,
      height: corner.height + beside.height + down * side.width + (down + 1) * gap * pitchMm.down,
    };
  }

  *entries(): Iterable<{ readonly entry: LayoutEntry; readonly key: "corner" | "side" }> {
    const { name, side } = this.#options;
    const lies = LIES[this.#frame.form ?? "turned"];
    const { width, height } = this.#whole;
    for (const [i, corner] of CORNERS.entries()) {
      const size = this.#corner(i);
      const x = i === 1 || i === 2 ? width - size.width : 0;
      const y = i >= 2 ? height - size.height : 0;
      const entry = { name: `${name}.${corner}`, piece: this.#frame.corner, at: this.#cells(x, y) };
      yield { entry: { ...entry, ...lies.corners[i] }, key: "corner" };
    }
    for (const [i, word] of SIDES.entries()) {
      const level = i % 2 === 0;
      const count = level ? this.#frame.across : this.#frame.down;
      // The first copy is the leftmost or topmost: on the way clockwise the last one of two sides.
      const first = this.#start(i, i < 2 ? 0 : count - 1);
      const corners = [first, first + side.width].map((along) => this.#point(i, along, 0));
      const inner = [first, first + side.width].map((along) => this.#point(i, along, side.height));
      const xs = [...corners, ...inner].map(({ x }) => x);
      const ys = [...corners, ...inner].map(({ y }) => y);
      const step = this.#start(i, 1) - this.#start(i, 0);
      const { across, down } = this.#options.pitchMm;
      const every: [number, number] = level ? [step / across, 0] : [0, step / down];
      const entry = {
        name: `${name}.${word}`,
        piece: this.#frame.side,
        at: this.#cells(Math.min(...xs), Math.min(...ys)),
        repeat: level ? { across: count, every } : { down: count, every },
      };
      yield { entry: { ...entry, ...lies.sides[i] }, key: "side" };
    }
  }

  /** A tie from each piece to the next, clockwise from the top left corner; the last one closes the frame. */
  *ties(): Iterable<JoinEntry> {
    const { side, name } = this.#options;
    const { twists } = this.#frame;
    for (const [i, word] of SIDES.entries()) {
      const count = i % 2 === 0 ? this.#frame.across : this.#frame.down;
      const nameOf = (k: number): string => {
        if (k < 0) return `${name}.${CORNERS[i]}`;
        if (k >= count) return `${name}.${CORNERS[(i + 1) % 4]}`;
        return `${name}.${word}${count === 1 ? "" : `#${i < 2 ? k + 1 : count - k}`}`;
      };
      for (let k = -1; k < count; k++) {
        const depth = Math.min(
          k < 0 ? this.#depth(i, i) : side.height,
          k + 1 < count ? side.height : this.#depth(i, i + 1),
        );
        const end = k < 0 ? this.#length(i) : this.#start(i, k) + side.width;
        const bend = this.#bendDepth(i, depth);
        const lane = this.#pitch(i) / 4;
        const nears = [end - lane, this.#start(i, k + 1) + lane].map((along) => {
          const { x, y } = this.#point(i, along, bend);
          return this.#cells(x, y);
        });
        yield {
          tie: nears.map((near, end) => ({ in: nameOf(k + end), near })),
          ...(twists === undefined ? {} : { twists }),
        };
      }
    }
  }

  /** Where the side's piece number `k`, from 0, begins; one past the last, where the corner does. */
  #start(side: number, k: number): number {
    const gap = (this.#frame.gap ?? DEFAULT_GAP) * this.#pitch(side);
    return this.#length(side) + gap + k * (this.#options.side.width + gap);
  }

  /** How long the side's first corner is along it. */
  #length(side: number): number {
    const { width, height } = this.#corner(side);
    return side % 2 === 0 ? width : height;
  }

  /** How deep a corner is, seen from a side. */
  #depth(side: number, corner: number): number {
    const { width, height } = this.#corner(corner);
    return side % 2 === 0 ? height : width;
  }

  /**
   * The middle bend of an end so deep: bends of panels lie on the middles of cells. Of two the
   * outer one, so that all four sides look alike.
   */
  #bendDepth(side: number, depth: number): number {
    const pitch = this.#pitch(side + 1);
    const cells = Math.round(depth / pitch);
    const isWhole = Math.abs(depth / pitch - cells) < 1e-6;
    return isWhole ? (Math.floor((cells - 1) / 2) + 0.5) * pitch : depth / 2;
  }

  #corner(i: number): Size {
    return this.#corners[i % 4] ?? this.#options.corner;
  }

  /** Along the side. */
  #pitch(side: number): number {
    const { across, down } = this.#options.pitchMm;
    return side % 2 === 0 ? across : down;
  }

  #point(side: number, along: number, depth: number): { readonly x: number; readonly y: number } {
    const { width, height } = this.#whole;
    switch (side) {
      case 0:
        return { x: along, y: depth };
      case 1:
        return { x: width - depth, y: along };
      case 2:
        return { x: width - along, y: height - depth };
      default:
        return { x: depth, y: height - along };
    }
  }

  /** A place of the frame in cells of the layout. */
  #cells(x: number, y: number): [number, number] {
    const { at, pitchMm } = this.#options;
    return [at[0] + x / pitchMm.across, at[1] + y / pitchMm.down];
  }
}

/** Cells. */
const DEFAULT_GAP = 1;
