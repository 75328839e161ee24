import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { crossingCount, crossingPoint, edgeCurve, isOver } from "../../src/diagram/knot-diagram.ts";
import {
  type ArcChain,
  chainLength,
  chainPart,
  joinChains,
  reverseChain,
  segmentsOf,
  signedArea,
} from "../../src/geometry/arc-chain.ts";
import { type BoxedChain, BoxIndex, boxChain, chainNearness } from "../../src/geometry/distance.ts";
import { selfMeets } from "../../src/geometry/self-meets.ts";
import type { LatticeOptions } from "../../src/lattice/panel-diagram.ts";
import { makeRibbons, type RibbonPiece, type Ribbons } from "../../src/ribbon/ribbon.ts";
import { externalTest, runReader, withFiles } from "../support/external.ts";
import { PITCH, type WovenPanel, wovenPanel } from "../support/panel-piece.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { band, differenceArea, polygonOf, without } from "../support/polygon-oracle.ts";
import { mirroredText, randomPanel, turnedText } from "../support/random-panel.ts";

const options = (across: number, down: number, corner: "pointed" | "round"): LatticeOptions => ({
  pitchMm: { across, down },
  corner,
});
const OPTIONS: readonly LatticeOptions[] = [
  options(PITCH, PITCH, "pointed"),
  options(PITCH, PITCH, "round"),
  options(0.7 * PITCH, PITCH, "pointed"),
  options(PITCH, 0.7 * PITCH, "round"),
];

interface Made {
  readonly woven: WovenPanel;
  readonly ribbons: Ribbons;
  readonly width: number;
  readonly gap: number;
}

/** Comfortable: width 0.3 and gap 0.06 of the smaller pitch. */
function made(rows: readonly string[], lattice: LatticeOptions, width = 0.3, gap = 0.06): Made {
  const woven = wovenPanel(rows, "Z", lattice);
  const pitch = Math.min(lattice.pitchMm.across, lattice.pitchMm.down);
  const size = { widthMm: width * pitch, gapMm: gap * pitch };
  return {
    woven,
    ribbons: makeRibbons(woven.diagram, woven.strands, size),
    width: size.widthMm,
    gap: size.gapMm,
  };
}

const area = ({ outline, holes }: RibbonPiece) =>
  [outline, ...holes].reduce((sum, chain) => sum + signedArea(chain), 0);
const sorted = (numbers: readonly number[]) => [...numbers].sort((a, b) => a - b);

function expectAlike(a: readonly number[], b: readonly number[]): void {
  expect(a.length).toBe(b.length);
  const wanted = sorted(b);
  for (const [i, value] of sorted(a).entries()) expect(value).toBeCloseTo(wanted[i] ?? Number.NaN, 6);
}

function expectSound(piece: RibbonPiece): void {
  for (const chain of [piece.outline, ...piece.holes]) {
    expect(chain.closed).toBe(true);
    expect(selfMeets(segmentsOf(chain), true)).toEqual([]);
    expect(chain.vertices.every(({ x, y, bulge }) => Number.isFinite(x + y) && Math.abs(bulge) <= 1)).toBe(
      true,
    );
  }
  expect(signedArea(piece.outline)).toBeGreaterThan(0);
  for (const hole of piece.holes) expect(signedArea(hole)).toBeLessThan(0);
}

describe.each(OPTIONS)("pitch $pitchMm.across x $pitchMm.down, $corner corners", (lattice) => {
  test("as many pieces as crossings and loops, each sound, none in trouble", () => {
    fc.assert(
      fc.property(randomPanel(), (rows) => {
        const { woven, ribbons } = made(rows, lattice);
        expect(ribbons.troubles).toEqual([]);
        expect(ribbons.pieces.length).toBe(crossingCount(woven.diagram) + woven.diagram.loops.length);
        for (const piece of ribbons.pieces) expectSound(piece);
        // Each crossing ends two pieces and lies under one.
        const ends = ribbons.pieces.flatMap((piece) => piece.ends);
        const over = ribbons.pieces.flatMap((piece) => piece.over);
        expect(sorted(ends)).toEqual(
          Array.from({ length: 2 * crossingCount(woven.diagram) }, (_, i) => i >> 1),
        );
        expect(sorted(over)).toEqual(Array.from({ length: crossingCount(woven.diagram) }, (_, i) => i));
      }),
      { numRuns: 60 },
    );
  });

  test("an end keeps exactly the gap from the strand over it, and nothing comes nearer", () => {
    fc.assert(
      fc.property(randomPanel(5), (rows) => {
        const { woven, ribbons, gap } = made(rows, lattice);
        const boxed = ribbons.pieces.map(({ outline }) => boxChain(outline));
        const overAt = new Map(
          ribbons.pieces.flatMap(({ over }, i) => over.map((crossing) => [crossing, i] as const)),
        );
        for (const [i, j, apart] of neighbours(boxed, 2 * gap)) {
          expect(apart, `${i} and ${j} of ${crossingCount(woven.diagram)}`).toBeGreaterThan(gap - 1e-6);
        }
        for (const [i, piece] of ribbons.pieces.entries()) {
          for (const crossing of piece.ends) {
            const over = overAt.get(crossing) ?? -1;
            const [a, b] = [boxed[i], boxed[over]];
            if (!a || !b || over === i) continue;
            expect(Math.abs((chainNearness(a, b, 10 * gap)?.distance ?? 0) - gap)).toBeLessThan(1e-6);
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  test("pieces are the widened line less the widened strand over it", () => {
    fc.assert(
      fc.property(randomPanel(4), (rows) => {
        const { woven, ribbons, width, gap } = made(rows, lattice);
        for (const piece of ribbons.pieces) {
          // A piece that passes over its own end would be cut through there by the library.
          if (piece.ends.length === 0 || piece.over.some((crossing) => piece.ends.includes(crossing)))
            continue;
          const body = band(polygonOf(piece.centreline), width, "pointed");
          const over = piece.ends.flatMap((crossing) =>
            band(polygonOf(overLine(woven, crossing, 1.2 * width)), width + 2 * gap, "pointed"),
          );
          // Chords on both sides, and the library's whole units: some 2e-4 mm along the edge.
          expect(differenceArea(without(body, over), [polygonOf(piece.outline)])).toBeLessThan(
            1e-3 * chainLength(piece.outline),
          );
        }
      }),
      { numRuns: 12 },
    );
  });

  test("mirrored and turned texts give the same pieces", () => {
    fc.assert(
      fc.property(randomPanel(5), (rows) => {
        const { across, down } = lattice.pitchMm;
        const plain = made(rows, lattice);
        const mirrored = made(mirroredText(rows), lattice);
        const turned = made(turnedText(rows), options(down, across, lattice.corner));
        // The mirrored text of one hand is woven the other way round: the same drawing has to be of
        // the other hand, which exchanges overs and unders.
        const other = wovenPanel(mirroredText(rows), "S", lattice);
        const reflected = makeRibbons(other.diagram, other.strands, {
          widthMm: plain.width,
          gapMm: plain.gap,
        });
        expect(mirrored.ribbons.pieces.length).toBe(plain.ribbons.pieces.length);
        for (const same of [turned.ribbons, reflected]) {
          expectAlike(same.pieces.map(area), plain.ribbons.pieces.map(area));
          expectAlike(
            same.pieces.map(({ centreline }) => chainLength(centreline)),
            plain.ribbons.pieces.map(({ centreline }) => chainLength(centreline)),
          );
        }
      }),
      { numRuns: 30 },
    );
  });
});

/** Pairs of pieces less than `within` apart. */
function* neighbours(
  boxed: readonly BoxedChain[],
  within: number,
): Iterable<readonly [number, number, number]> {
  const index = new BoxIndex(boxed.map(({ bounds }) => bounds));
  for (const [i, a] of boxed.entries()) {
    for (const j of index.near(a.bounds, within)) {
      const b = boxed[j];
      const found = b && j > i ? chainNearness(a, b, within) : undefined;
      if (found) yield [i, j, found.distance];
    }
  }
}

/** The over-strand's line, `reach` mm to both sides of a crossing. */
function overLine({ diagram }: WovenPanel, crossing: number, reach: number): ArcChain {
  const [ahead, behind] = [0, 1, 2, 3]
    .map((slot) => 4 * crossing + slot)
    .filter((half) => isOver(diagram, half));
  if (ahead === undefined || behind === undefined) throw new Error("a crossing without an over-strand");
  const out = (half: number) => chainPart(edgeCurve(diagram, half), 0, reach);
  return joinChains([reverseChain(out(behind)), out(ahead)], false);
}

/*
 * By hand: inside a plain panel of pitch P a piece runs straight over one crossing, P/sqrt 2 to
 * each side, and meets the strands over its ends at right angles: it loses width/2 + gap at each.
 */
test("a piece inside a plain panel has the area worked out by hand", () => {
  const { woven, ribbons, width, gap } = made(plainPanel(6, 6), options(PITCH, PITCH, "pointed"));
  const length = 2 * (PITCH / Math.SQRT2);
  // Over crossings two cells from the border the strands over both ends run straight on as well.
  const inside = (at: number) => at > 1.9 * PITCH && at < 4.1 * PITCH;
  const straight = ribbons.pieces.filter(({ over: [crossing = -1] }) => {
    const { x, y } = crossingPoint(woven.diagram, crossing);
    return inside(x) && inside(y);
  });
  // Of the 3 x 2 and 2 x 3 sites between cells there.
  expect(straight.length).toBe(12);
  for (const piece of straight) {
    expect(chainLength(piece.centreline)).toBeCloseTo(length, 9);
    expect(area(piece)).toBeCloseTo(width * (length - 2 * (width / 2 + gap)), 9);
    expect(piece.outline.vertices.length).toBe(4);
  }
});

// By hand: one cell is a loop of four lanes P/2 long; a band of the same width all round a square
// with pointed corners has the area of its centreline's length times its width.
test("a loop that crosses nothing is a band with a hole", () => {
  const { ribbons, width } = made(plainPanel(1, 1), options(PITCH, PITCH, "pointed"));
  const [piece] = ribbons.pieces;
  expect(ribbons.pieces.length).toBe(1);
  expect(piece?.holes.length).toBe(1);
  expect(piece && area(piece)).toBeCloseTo(2 * PITCH * width, 9);
});

test("a ribbon too wide for its bends is told with its place, and what is made is sound", () => {
  fc.assert(
    fc.property(
      randomPanel(5),
      fc.constantFrom(...OPTIONS),
      fc.integer({ min: 30, max: 200 }),
      (rows, lattice, percent) => {
        const { woven, ribbons } = made(rows, lattice, percent / 100, 0.06);
        for (const piece of ribbons.pieces) expectSound(piece);
        for (const { at } of ribbons.troubles) expect(Number.isFinite(at.x + at.y)).toBe(true);
        expect(ribbons.pieces.length + ribbons.troubles.length).toBe(
          crossingCount(woven.diagram) + woven.diagram.loops.length,
        );
      },
    ),
    { numRuns: 200 },
  );
});

test("an end mill's width of ribbon in a corner of no size is refused, not drawn", () => {
  // The bend of a plain panel has radius 0.6 pitch: at 1.3 pitches the inner edge has none.
  const { ribbons } = made(plainPanel(3, 3), options(PITCH, PITCH, "round"), 1.3);
  expect(ribbons.troubles.some(({ kind }) => kind === "bend-too-tight")).toBe(true);
});

externalTest("a geometry library finds every piece valid and none on another", ["python:shapely"], () => {
  const panels = fc.sample(randomPanel(5), { numRuns: 15, seed: 11 });
  for (const lattice of OPTIONS.slice(0, 3)) {
    const pieces = panels.map((rows) => made(rows, lattice).ribbons.pieces);
    for (const list of pieces) {
      const polygons = list.map(({ outline, holes }) => ({
        outline: polygonOf(outline).map(({ x, y }) => [x, y]),
        holes: holes.map((hole) => polygonOf(hole).map(({ x, y }) => [x, y])),
      }));
      const report = withFiles({ "shapes.json": JSON.stringify(polygons) }, (pathOf) =>
        runReader("polygons_report.py", [pathOf("shapes.json")]),
      ) as {
        readonly valid: readonly boolean[];
        readonly areas: readonly number[];
        readonly overlaps: readonly unknown[];
      };
      expect(report.valid.every(Boolean)).toBe(true);
      expect(report.overlaps).toEqual([]);
      for (const [i, piece] of list.entries())
        expect(Math.abs((report.areas[i] ?? 0) - area(piece))).toBeLessThan(
          1e-3 * chainLength(piece.outline),
        );
    }
  }
});
