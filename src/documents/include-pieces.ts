/**
 * Pieces from design files beside a design: `"include": { "knots": "shared.plait.json" }` makes
 * that file's piece `wing` the piece `knots/wing` here, and a file of one piece alone the piece
 * `knots`. Only pieces are taken, with their hands, and drawn at this design's pitch; an included
 * file's own pitch, ribbon, layout and joins are for itself.
 */
import { done, type Fault, type Result } from "../base/fault.ts";
import type { PieceEntry, WrittenComposition } from "./composition.ts";
import { type Design, parseIncluded } from "./design.ts";
import { placePanelFaults } from "./panel-places.ts";

export interface GatheredPieces {
  readonly pieces: Readonly<Record<string, PieceEntry>>;
  /** A fault of drawing, told of the file that the piece at fault comes from. */
  readonly placed: (fault: Fault) => Fault;
}

type ReadBeside = (name: string) => Result<string>;

/** A file of a design's pieces. */
interface Source {
  readonly file: string;
  readonly text: string;
}

interface FoundPiece {
  readonly name: string;
  readonly entry: PieceEntry;
  /** Where it stands; undefined for the design's own pieces. */
  readonly from?: Source & { readonly path: readonly string[]; readonly prefix: string };
}

/** Files that include each other twice over would double with every step. */
const MOST_FILES = 100;

/**
 * The design's own pieces and those of all files that it includes.
 *
 * Faults: `include-unreadable`, `include-cycle`, `include-too-many`, `include-same-name`, and
 * those of the included files.
 */
export function includePieces(written: WrittenComposition, readBeside: ReadBeside): Result<GatheredPieces> {
  const gathering = new Gathering(readBeside);
  const found = gathering.piecesOf(written, []);
  if (!found.ok) return found;
  const byName = new Map(found.value.map((piece) => [piece.name, piece]));
  return done({
    pieces: Object.fromEntries(found.value.map(({ name, entry }) => [name, entry])),
    placed: (fault) => placedAtSource(fault, byName, written.include ?? {}),
  });
}

class Gathering {
  readonly #readBeside: ReadBeside;
  #files = 0;

  constructor(readBeside: ReadBeside) {
    this.#readBeside = readBeside;
  }

  /** @param trail the files that led here, the last one that of these pieces; empty for the design itself */
  piecesOf(
    { pieces, include = {} }: WrittenComposition,
    trail: readonly Source[],
  ): Result<readonly FoundPiece[]> {
    const found: FoundPiece[] = Object.entries(pieces).map(([name, entry]) => ({
      name,
      entry,
      ...fromOf(trail.at(-1), ["pieces", name]),
    }));
    for (const [key, file] of Object.entries(include)) {
      const included = this.#includedPieces(key, file, trail);
      if (!included.ok) return included;
      const names = new Set(found.map(({ name }) => name));
      const twice = included.value.find(({ name }) => names.has(name));
      if (twice)
        return refusedIn(trail.at(-1), {
          code: "include-same-name",
          found: twice.name,
          included: file,
          path: ["include", key],
        });
      found.push(...included.value);
    }
    return done(found);
  }

  #includedPieces(key: string, file: string, trail: readonly Source[]): Result<readonly FoundPiece[]> {
    const by = trail.at(-1);
    const path = ["include", key];
    if (trail.some((source) => source.file === file))
      return refusedIn(by, { code: "include-cycle", included: file, path });
    this.#files++;
    if (this.#files > MOST_FILES) return refusedIn(by, { code: "include-too-many", most: MOST_FILES, path });
    const text = this.#readBeside(file);
    if (!text.ok) return refusedIn(by, ...text.faults.map((fault) => unreadable(fault, file, path)));
    const design = parseIncluded(text.value, file);
    if (!design.ok) return design;
    const source = { file, text: text.value };
    const alone = pieceAlone(design.value);
    if (alone) return done([{ name: key, entry: alone, ...fromOf(source, []) }]);
    const { composition } = design.value;
    const pieces = composition ? this.piecesOf(composition, [...trail, source]) : done([]);
    return pieces.ok ? done(pieces.value.map((piece) => prefixed(piece, key))) : pieces;
  }
}

/** The piece of a design that has only one, or undefined. */
function pieceAlone({ panel, hand, composition }: Design): PieceEntry | undefined {
  if (!composition) return { panel: [...panel], hand };
  return composition.alone === undefined ? undefined : composition.pieces[composition.alone];
}

function fromOf(source: Source | undefined, path: readonly string[]): Pick<FoundPiece, "from"> {
  return source ? { from: { ...source, path, prefix: "" } } : {};
}

/** The piece under the name that it has one file further out; what it is fused of is renamed with it. */
function prefixed({ name, entry, from }: FoundPiece, key: string): FoundPiece {
  const { fuse } = entry;
  const renamed = fuse && {
    ...fuse,
    parts: fuse.parts.map((part) => ({ ...part, piece: `${key}/${part.piece}` })),
  };
  return {
    name: `${key}/${name}`,
    entry: renamed ? { ...entry, fuse: renamed } : entry,
    ...(from && { from: { ...from, prefix: `${key}/${from.prefix}` } }),
  };
}

/** The faults, each placed in the file that includes; the design itself is placed by its reader. */
function refusedIn(by: Source | undefined, ...faults: readonly Fault[]): Result<never> {
  return { ok: false, faults: by ? placePanelFaults(faults, by.text, by.file) : faults };
}

function unreadable(fault: Fault, included: string, path: readonly string[]): Fault {
  return fault.code === "file-unreadable"
    ? { code: "include-unreadable", included, reason: fault.reason, path }
    : fault;
}

function placedAtSource(
  fault: Fault,
  pieces: ReadonlyMap<string, FoundPiece>,
  include: Readonly<Record<string, string>>,
): Fault {
  const [root, name, ...rest] = fault.path ?? [];
  const from = root === "pieces" && typeof name === "string" ? pieces.get(name)?.from : undefined;
  if (from) {
    const { prefix, path, text, file } = from;
    const own = fault.code === "piece-unknown" ? withoutPrefix(fault, prefix) : fault;
    return placePanelFaults([{ ...own, path: [...path, ...rest] }], text, file)[0] ?? fault;
  }
  if (fault.code !== "piece-unknown") return fault;
  const key = Object.keys(include).find((each) => fault.found.startsWith(`${each}/`));
  if (key === undefined) return fault;
  const { found, known, code: _code, ...where } = withoutPrefix(fault, `${key}/`);
  // A file of one piece alone has no names of its own: the piece is called by the key.
  if (known.length === 0) return fault;
  return { ...where, code: "include-no-piece", found, known, included: include[key] ?? key };
}

type UnknownPiece = Extract<Fault, { code: "piece-unknown" }>;

/** The names as the included file has them. */
function withoutPrefix(fault: UnknownPiece, prefix: string): UnknownPiece {
  const known = fault.known.flatMap((name) => (name.startsWith(prefix) ? [name.slice(prefix.length)] : []));
  return { ...fault, found: fault.found.slice(prefix.length), known };
}
