/** One join of a design: its bends found or chosen, the tie planned, proved clear, and made. */
import { done, type Fault, type FaultFacts, type Result, refused, type WouldDo } from "../base/fault.ts";
import { InternalError } from "../base/internal-error.ts";
import { nearestWord } from "../base/nearest.ts";
import { diagramBounds } from "../diagram/move-diagram.ts";
import type { Hand } from "../diagram/weave.ts";
import { distance, type Point } from "../geometry/point.ts";
import type { Bend } from "../join/bend.ts";
import { facingPairs } from "../join/choose-bends.ts";
import type { Obstacle } from "../join/clearance.ts";
import { planHook, planTie, type Tie, type TieRefusal } from "../join/tie.ts";
import { planAround } from "../join/tie-around.ts";
import type { Assembly, Part } from "./assembly.ts";
import { BendFinder, middleOf } from "./bend-finder.ts";
import type { BendEntry, JoinEntry } from "./composition.ts";
import type { PieceContext } from "./draw-piece.ts";
import type { LaidPiece } from "./laid-piece.ts";

export interface MadeJoin {
  readonly kind: "tie" | "hook" | "around";
  readonly pieces: readonly string[];
  readonly twists: number;
  /** Where the bends were snipped or hooked, mm from the lower left corner of the centrelines. */
  readonly at: readonly Point[];
}

type Path = readonly (string | number)[];

/**
 * Makes a join; `at` of the answer is still in the layout's own mm.
 *
 * Faults: `missing-key`, `several-pieces`, `number-out-of-range`, `piece-unknown`, `same-part`,
 * `hands-differ`, `no-outer-bend`, and what keeps a tie from being drawn, with bends that would do.
 */
export function makeJoin(
  assembly: Assembly,
  join: JoinEntry,
  pitchMm: PieceContext["pitchMm"],
  path: Path,
): Result<MadeJoin> {
  const shape = shapeOf(join, path);
  if (!shape.ok) return shape;
  const partners = partnersOf(assembly, shape.value.entries, shape.value.path);
  if (!partners.ok) return partners;
  return new Joining(assembly, shape.value, partners.value, pitchMm).make(join.match === "strict");
}

/** A join as it is to be made. */
interface Shape {
  readonly kind: MadeJoin["kind"];
  readonly entries: readonly BendEntry[];
  readonly twists: number;
  readonly path: Path;
}

function shapeOf({ tie, hook, twists = 0 }: JoinEntry, path: Path): Result<Shape> {
  if (tie && hook) return refused({ code: "several-pieces", found: ["tie", "hook"], path });
  const entries = tie ?? hook;
  if (!entries) return refused({ code: "missing-key", key: "tie", path });
  const kind = hook ? "hook" : entries.length > 2 ? "around" : "tie";
  const most = kind === "hook" ? 0 : kind === "around" ? 1 : Number.POSITIVE_INFINITY;
  if (twists > most)
    return refused({
      code: "number-out-of-range",
      found: twists,
      least: 0,
      greatest: most,
      unit: "",
      path: [...path, "twists"],
    });
  return done({ kind, entries, twists, path: [...path, hook ? "hook" : "tie"] });
}

function partnersOf(
  { pieces }: Assembly,
  entries: readonly BendEntry[],
  path: Path,
): Result<readonly LaidPiece[]> {
  const partners: LaidPiece[] = [];
  for (const [i, entry] of entries.entries()) {
    const piece = pieces.find(({ name }) => name === entry.in);
    if (!piece) {
      const names = pieces.map(({ name }) => name);
      const nearest = nearestWord(entry.in, names);
      const known = nearest === undefined ? names.slice(0, 12) : [nearest];
      return refused({ code: "piece-unknown", found: entry.in, known, path: [...path, i, "in"] });
    }
    partners.push(piece);
    if (entry.bend && entry.near)
      return refused({ code: "several-pieces", found: ["bend", "near"], path: [...path, i] });
  }
  return done(partners);
}

/** Bends tried before a join is given up, and for each partner when others are looked for. */
const MOST_TRIES = 24;

/** Bends told for each partner that would do. */
const MOST_TOLD = 3;

type Tried = { readonly kind: "clear"; readonly tie: Tie } | TieRefusal | Obstacle;

class Joining {
  readonly #assembly: Assembly;
  readonly #shape: Shape;
  readonly #partners: readonly LaidPiece[];
  readonly #finder: BendFinder;
  readonly #pitchMm: PieceContext["pitchMm"];
  /** Between the two strands of a tie, mm: the lanes of a breakline. */
  readonly #spacing: number;

  constructor(
    assembly: Assembly,
    shape: Shape,
    partners: readonly LaidPiece[],
    pitchMm: PieceContext["pitchMm"],
  ) {
    this.#assembly = assembly;
    this.#shape = shape;
    this.#partners = partners;
    this.#finder = new BendFinder(assembly, pitchMm);
    this.#pitchMm = pitchMm;
    this.#spacing = Math.min(pitchMm.across, pitchMm.down) / 2;
  }

  make(isStrict: boolean): Result<MadeJoin> {
    const { kind, twists } = this.#shape;
    const same = this.#samePieces();
    if (same) return refused(same);
    const chosen = this.#choose();
    if (!chosen.ok) return chosen;
    const choices = chosen.value.filter((bends) => this.#onePartTwice(bends) === undefined);
    const [first] = choices;
    if (!first) return refused(this.#samePart(chosen.value[0] ?? []));
    const hands = this.#handsOf(first);
    const hand = hands.find((own) => own !== undefined) ?? this.#partners[0]?.hand ?? "Z";
    const differs = isStrict ? this.#handsDiffer(hands) : undefined;
    if (differs) return refused(differs);
    let refusal: Exclude<Tried, { kind: "clear" }> | undefined;
    for (const bends of choices) {
      const tried = this.#try(bends);
      if (tried.kind !== "clear") {
        refusal ??= tried;
        continue;
      }
      this.#assembly.lay(tried.tie, hand);
      return done({
        kind,
        twists,
        pieces: this.#partners.map(({ name }) => name),
        at: bends.map(({ at }) => at),
      });
    }
    if (!refusal) throw new InternalError("a join was neither made nor refused");
    return refused(this.#faultOf(refusal, first));
  }

  #try(bends: readonly Bend[]): Tried {
    const { kind, twists } = this.#shape;
    const [a, b] = bends;
    if (!a || !b) throw new InternalError("a join without two bends");
    const planned =
      kind === "hook"
        ? planHook(a, b, this.#spacing)
        : kind === "tie"
          ? planTie(a, b, twists, this.#spacing)
          : planAround(bends, twists > 0, this.#spacing);
    if (planned.kind !== "planned") return planned;
    const obstacle = this.#assembly.clearance.obstacle(planned.tie, this.#spacing);
    return obstacle ?? { kind: "clear", tie: planned.tie };
  }

  /** The bends to try, the best first: those named, and for the rest those that face best. */
  #choose(): Result<(readonly Bend[])[]> {
    const { entries, path } = this.#shape;
    const middle = middleOf(this.#partners);
    const named: (Bend | undefined)[] = [];
    for (const [i, entry] of entries.entries()) {
      const piece = this.#partners[i];
      if (!piece) continue;
      const isFree = !entry.bend && !entry.near;
      if (isFree && entries.length === 2) {
        named.push(undefined);
        continue;
      }
      const bend = this.#finder.named(entry, piece, middle);
      if (!bend) return refused({ code: "no-outer-bend", piece: piece.name, path: [...path, i] });
      named.push(bend);
    }
    const [a, b] = named;
    if (entries.length > 2 || (a && b)) return done([named.filter((bend) => bend !== undefined)]);
    const [first, second] = this.#partners;
    if (!first || !second) throw new InternalError("a join without two partners");
    const pairs = facingPairs(
      a ? [a] : this.#finder.all(first, b),
      b ? [b] : this.#finder.all(second, a),
      MOST_TRIES,
    ).map((pair) => this.#finder.aimed(pair));
    if (pairs.length > 0) return done(pairs);
    return refused({ code: "no-outer-bend", piece: (b ? first : second).name, path });
  }

  /** The hands of the parts that the bends lie on; undefined where nothing crosses. */
  #handsOf(bends: readonly Bend[]): (Hand | undefined)[] {
    return bends.map((bend) => {
      const part = this.#assembly.partOfBend(bend);
      return part?.crossing === undefined ? undefined : part.hand;
    });
  }

  #handsDiffer(hands: readonly (Hand | undefined)[]): Fault | undefined {
    const i = hands.findIndex((hand) => hand !== undefined);
    const handA = hands[i];
    const j = hands.findIndex((hand) => hand !== undefined && hand !== handA);
    const handB = hands[j];
    const [a, b] = [this.#partners[i], this.#partners[j]];
    if (!handA || !handB || !a || !b) return undefined;
    return { code: "hands-differ", a: a.name, b: b.name, handA, handB, path: this.#shape.path };
  }

  /** The number of a bend that lies on the same part as one before it. */
  #onePartTwice(bends: readonly Bend[]): number | undefined {
    const [a, b] = bends;
    const apart = a && b && "half" in a.cut && "half" in b.cut && a.cut.half !== b.cut.half;
    if (this.#mayClose && apart) return undefined;
    const parts = bends.map((bend) => this.#assembly.partOfBend(bend));
    const twice = parts.findIndex((part, i) => parts.indexOf(part) < i);
    return twice < 0 ? undefined : twice;
  }

  /** Two partners that lie in one and the same part, whichever bends are taken. */
  #samePieces(): Fault | undefined {
    if (this.#mayClose) return undefined;
    const owners = new Map<Part, LaidPiece>();
    for (const piece of this.#partners) {
      const [part, ...others] = this.#assembly.partsOf(piece);
      if (part === undefined || others.length > 0) continue;
      const before = owners.get(part);
      if (before) return { code: "same-part", a: before.name, b: piece.name, path: this.#shape.path };
      owners.set(part, piece);
    }
    return undefined;
  }

  /**
   * Pieces tied in a row may be closed to a ring: a tie of one part's outside with itself, where
   * both bends are named, stays in the plane and keeps the weave.
   */
  get #mayClose(): boolean {
    const { kind, entries } = this.#shape;
    return kind === "tie" && entries.every(({ bend, near }) => bend !== undefined || near !== undefined);
  }

  #samePart(bends: readonly Bend[]): Fault {
    const parts = bends.map((bend) => this.#assembly.partOfBend(bend));
    const twice = this.#onePartTwice(bends) ?? 1;
    const once = parts.indexOf(parts[twice]);
    const a = this.#partners[once]?.name ?? "";
    return { code: "same-part", a, b: this.#partners[twice]?.name ?? "", path: this.#shape.path };
  }

  #faultOf(refusal: Exclude<Tried, { kind: "clear" }>, bends: readonly Bend[]): Fault {
    const wouldDo = this.#wouldDo(bends);
    const wouldDoTogether = wouldDo.length > 0 ? [] : this.#wouldDoTogether();
    return {
      ...this.#factsOf(refusal, bends),
      ...(wouldDo.length > 0 && { wouldDo }),
      ...(wouldDoTogether.length > 0 && { wouldDoTogether }),
      path: this.#shape.path,
    };
  }

  #factsOf(refusal: Exclude<Tried, { kind: "clear" }>, bends: readonly Bend[]): FaultFacts {
    const box = diagramBounds(this.#assembly.diagram);
    const atMm = ({ x, y }: Point) => ({ x: x - box.minX, y: y - box.minY });
    const nameOf = (bend: Bend | undefined) =>
      bend ? (this.#partners[bends.indexOf(bend)]?.name ?? "") : "";
    switch (refusal.kind) {
      case "no-legs":
        return { code: "bend-no-legs", atMm: atMm(refusal.bend.at) };
      case "itself":
        return { code: "bend-no-legs", atMm: atMm(refusal.at) };
      case "not-facing":
      case "too-near": {
        const [a, b] = refusal.bends;
        const names = { a: nameOf(a), ...(b && { b: nameOf(b) }) };
        if (refusal.kind === "not-facing")
          return { code: "bends-not-facing", ...names, angleDeg: refusal.angleDeg };
        return { code: "bends-too-near", ...names, haveMm: refusal.haveMm, needMm: refusal.needMm };
      }
      case "strand": {
        const piece = this.#assembly.ownerOf(refusal.strand)?.name;
        return { code: "tie-in-the-way", ...(piece !== undefined && { piece }), atMm: atMm(refusal.at) };
      }
    }
  }

  /** Bends of each partner that would do beside the others as they are. */
  #wouldDo(bends: readonly Bend[]): WouldDo[] {
    const told: WouldDo[] = [];
    for (const [i, piece] of this.#partners.entries()) {
      const own = bends[i];
      if (!own) continue;
      const near = this.#finder
        .all(piece)
        .filter(({ at }) => distance(at, own.at) > this.#spacing / 100)
        .sort((p, q) => distance(p.at, own.at) - distance(q.at, own.at))
        .slice(0, MOST_TRIES);
      const good = near.filter((bend) => this.#isClear(bends.with(i, bend)));
      told.push(...good.slice(0, MOST_TOLD).map((bend) => this.#tell(piece, bend)));
    }
    return told;
  }

  /** The first pair that would do, where no bend does by itself. */
  #wouldDoTogether(): WouldDo[] {
    const [a, b] = this.#partners;
    if (!a || !b || this.#partners.length > 2) return [];
    const pairs = facingPairs(this.#finder.all(a), this.#finder.all(b), MOST_TRIES);
    const pair = pairs.find((each) => this.#isClear(each));
    return pair ? [this.#tell(a, pair[0]), this.#tell(b, pair[1])] : [];
  }

  #isClear(bends: readonly Bend[]): boolean {
    return this.#onePartTwice(bends) === undefined && this.#try(bends).kind === "clear";
  }

  #tell({ name }: LaidPiece, { at }: Bend): WouldDo {
    const box = diagramBounds(this.#assembly.diagram);
    const { across, down } = this.#pitchMm;
    return {
      piece: name,
      atMm: { x: at.x - box.minX, y: at.y - box.minY },
      near: [at.x / across, 0 - at.y / down],
    };
  }
}
