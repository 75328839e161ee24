/** CHECKS 1.6 over random pairs, and the drawing of every join. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { crossingCount } from "../../src/diagram/knot-diagram.ts";
import type { Composed } from "../../src/documents/compose-design.ts";
import { colouringDeterminant } from "../support/link-invariants.ts";
import { wovenPanel } from "../support/panel-piece.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { randomPanel } from "../support/random-panel.ts";
import { compose, composed, type Joins, type Layout, PITCH, type Pieces } from "./composed.ts";
import { expectSound, kinks } from "./sound.ts";

/** Connected, with crossings: what determinants are for. */
const knotty = randomPanel(4).filter((rows) => {
  const { diagram, faces } = wovenPanel(rows);
  return faces.parts === 1 && crossingCount(diagram) > 0;
});

/** A plain panel of more than one cell. */
const plain = fc
  .tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 4 }))
  .filter(([across, down]) => across + down > 2)
  .map(([across, down]) => plainPanel(across, down));

interface Pair {
  readonly a: readonly string[];
  readonly b: readonly string[];
  readonly gap: number;
  readonly down: number;
  readonly turn: number;
  readonly mirror: boolean;
}

function pairs(panel: fc.Arbitrary<readonly string[]>, turns: readonly number[]): fc.Arbitrary<Pair> {
  return fc.record({
    a: panel,
    b: panel,
    gap: fc.constantFrom(3, 4, 6),
    down: fc.constantFrom(0, 0.5, 1, 0.37),
    turn: fc.constantFrom(...turns),
    mirror: fc.boolean(),
  });
}

const ODD_TURNS = [0, 90, 180, 17, -33, 200];

function piecesOf({ a, b }: Pair) {
  return { a: { panel: [...a] }, b: { panel: [...b] } };
}

function layoutOf({ a, gap, down, turn, mirror }: Pair): Layout {
  const wide = (Math.max(...a.map((row) => row.trimEnd().length)) - 1) / 2;
  return [
    { piece: "a", at: [0, 0] },
    { piece: "b", at: [wide + gap, down], turn, mirror },
  ];
}

const ENDS = [{ in: "a" }, { in: "b" }];

/** Strands, crossings and determinant of each piece alone. */
function alone(rows: readonly string[]) {
  const { diagram, strands } = wovenPanel(rows);
  return { strands: strands.count, crossings: crossingCount(diagram), det: colouringDeterminant(diagram) };
}

function together({ diagram, strands }: Composed) {
  return { strands: strands.count, crossings: crossingCount(diagram), det: colouringDeterminant(diagram) };
}

/** Joined where the tool finds room; what it refuses must be one of these. */
const REFUSALS = ["bends-too-near", "bend-no-legs", "tie-in-the-way", "no-outer-bend"];

function expectJoined(pair: Pair, joins: Joins, wanted: ReturnType<typeof alone>): "joined" | "refused" {
  const free = composed(piecesOf(pair), layoutOf(pair));
  const made = compose(piecesOf(pair), layoutOf(pair), joins);
  if (!made.ok) {
    expect(REFUSALS).toContain(made.faults[0]?.code);
    return "refused";
  }
  expect(together(made.value)).toEqual(wanted);
  expect(made.value.pieces.map(({ exchanged }) => exchanged)).toEqual([false, pair.mirror]);
  expectSound(made.value.diagram, {
    corners: kinks(free.diagram),
    pitch: PITCH,
    firstNew: crossingCount(free.diagram),
  });
  return "joined";
}

test.each([0, 1, 2, 3])("a tie with %i twists: one strand less, determinants multiply", (twists) => {
  const counts = { joined: 0, refused: 0 };
  fc.assert(
    fc.property(fc.oneof(pairs(plain, ODD_TURNS), pairs(knotty, ODD_TURNS)), (pair) => {
      const [a, b] = [alone(pair.a), alone(pair.b)];
      const wanted = {
        strands: a.strands + b.strands - 1,
        crossings: a.crossings + b.crossings + twists,
        det: a.det * b.det,
      };
      counts[expectJoined(pair, [{ tie: ENDS, twists }], wanted)]++;
    }),
    { numRuns: 150 },
  );
  // Some random pieces have nothing that faces; nearly all are tied.
  expect(counts.refused).toBeLessThan(0.1 * counts.joined);
});

test("a hook: strands add, two crossings more, twice the product of determinants", () => {
  const counts = { joined: 0, refused: 0 };
  fc.assert(
    fc.property(fc.oneof(pairs(plain, ODD_TURNS), pairs(knotty, ODD_TURNS)), (pair) => {
      const [a, b] = [alone(pair.a), alone(pair.b)];
      const wanted = {
        strands: a.strands + b.strands,
        crossings: a.crossings + b.crossings + 2,
        det: 2n * a.det * b.det,
      };
      counts[expectJoined(pair, [{ hook: ENDS }], wanted)]++;
    }),
    { numRuns: 150 },
  );
  expect(counts.refused).toBeLessThan(0.2 * counts.joined);
});

test.each([
  [3, 0],
  [3, 1],
  [4, 0],
  [4, 1],
  [5, 0],
])(
  "%i parts around a point, %i twists: one strand of each becomes one, determinants multiply",
  (times, twists) => {
    let joined = 0;
    fc.assert(
      fc.property(
        plain,
        fc.constantFrom(0, 45, 180, 225),
        fc.integer({ min: 0, max: 2 }),
        (rows, turn, off) => {
          const one = alone(rows);
          const pieces = { a: { panel: rows } };
          const layout: Layout = [
            { piece: "a", at: [4 + off, -rows.length / 4], turn, around: { centre: [0, 0], times } },
          ];
          const tie = Array.from({ length: times }, (_, i) => ({ in: `a#${i + 1}` }));
          const made = compose(pieces, layout, [{ tie, twists }]);
          if (!made.ok) {
            expect(["bends-not-facing", ...REFUSALS]).toContain(made.faults[0]?.code);
            return;
          }
          joined++;
          expect(together(made.value)).toEqual({
            strands: times * one.strands - (times - 1),
            crossings: times * (one.crossings + twists),
            det: one.det ** BigInt(times),
          });
          const free = composed(pieces, layout).diagram;
          expectSound(made.value.diagram, {
            corners: kinks(free),
            pitch: PITCH,
            firstNew: crossingCount(free),
          });
        },
      ),
      { numRuns: 40 },
    );
    expect(joined).toBeGreaterThan(20);
  },
);

test("ties are drawn soundly on a stretched lattice, and with round corners", () => {
  for (const corner of ["pointed", "round"] as const) {
    for (const pitchMm of [
      { across: 10, down: 8 },
      { across: 8, down: 10 },
    ]) {
      fc.assert(
        fc.property(pairs(plain, [0, 90, 30]), fc.integer({ min: 0, max: 2 }), (pair, twists) => {
          const design = [piecesOf(pair), layoutOf(pair)] as const;
          const made = compose(...design, [{ tie: ENDS, twists }], { pitchMm, corner });
          if (!made.ok) {
            expect(REFUSALS).toContain(made.faults[0]?.code);
            return;
          }
          const free = composed(...design, [], { pitchMm, corner }).diagram;
          expectSound(made.value.diagram, {
            corners: kinks(free),
            pitch: 8,
            firstNew: crossingCount(free),
          });
        }),
        { numRuns: 40 },
      );
    }
  }
});

const OTHERS: Pieces = {
  panel: { panel: plainPanel(3, 3) },
  ring: { ring: { around: 16, rows: 2, inner: 24 } },
  fan: { ring: { panel: plainPanel(8, 2), inner: 40, angle: 90 } },
  triad: {
    graph: {
      points: [
        [0, 0],
        [4, 0],
        [2, 3.4],
      ],
      lines: [
        [0, 1],
        [1, 2],
        [2, 0],
      ],
    },
  },
  drawn: { strands: "drawn.svg" },
};

const DRAWN =
  '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60"><circle cx="25" cy="25" r="22"/><ellipse cx="50" cy="32" rx="25" ry="20"/></svg>';

test("rings, fans, graphs and drawings are tied to each other, at any turn", () => {
  const counts = { joined: 0, refused: 0 };
  const piece = fc.constantFrom(...Object.keys(OTHERS));
  const design = fc.record({
    a: piece,
    b: piece,
    turn: fc.integer({ min: -180, max: 180 }),
    mirror: fc.boolean(),
    down: fc.double({ min: -4, max: 4, noNaN: true }),
    join: fc.constantFrom<Joins[number]>(
      { tie: ENDS },
      { tie: ENDS, twists: 1 },
      { tie: ENDS, twists: 2 },
      { hook: ENDS },
    ),
  });
  fc.assert(
    fc.property(design, ({ a, b, turn, mirror, down, join }) => {
      const layout: Layout = [
        { name: "a", piece: a, at: [0, 0] },
        { name: "b", piece: b, at: [18, down], turn, mirror },
      ];
      const free = composed(OTHERS, layout, [], { beside: DRAWN });
      const made = compose(OTHERS, layout, [join], { beside: DRAWN });
      if (!made.ok) {
        counts.refused++;
        expect(REFUSALS).toContain(made.faults[0]?.code);
        return;
      }
      counts.joined++;
      expect(made.value.strands.count).toBe(free.strands.count - (join.tie ? 1 : 0));
      expectSound(made.value.diagram, {
        corners: kinks(free.diagram),
        pitch: PITCH,
        firstNew: crossingCount(free.diagram),
      });
    }),
    { numRuns: 150 },
  );
  expect(counts.refused).toBeLessThan(0.1 * counts.joined);
});
