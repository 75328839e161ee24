/** Frames: corner and side pieces as ordinary entries of a layout. */
import { expect, test } from "vitest";
import type { Fault } from "../../src/base/fault.ts";
import { crossingCount } from "../../src/diagram/knot-diagram.ts";
import { diagramBounds } from "../../src/diagram/move-diagram.ts";
import { composeDesign } from "../../src/documents/compose-design.ts";
import type { FrameEntry, WrittenComposition } from "../../src/documents/composition.ts";
import type { PieceContext } from "../../src/documents/draw-piece.ts";
import { expandLayout } from "../../src/documents/expand-layout.ts";
import { readsNothing } from "../../src/documents/woven-design.ts";
import { plainPanel } from "../support/plain-panel.ts";

const CONTEXT: PieceContext = {
  pitchMm: { across: 16, down: 16 },
  corner: "pointed",
  readBeside: readsNothing,
};
/** 3 wide and 2 high, so that a quarter turn shows. */
const KNEE = plainPanel(3, 2);
const BAR = plainPanel(4, 2);

function framed(
  change: Partial<FrameEntry> = {},
  rest: Partial<WrittenComposition> = {},
): WrittenComposition {
  return {
    pieces: { knee: { panel: KNEE }, bar: { panel: BAR } },
    layout: [{ at: [1, 2], frame: { corner: "knee", side: "bar", across: 3, down: 2, gap: 0.5, ...change } }],
    joins: [],
    ...rest,
  };
}

function expanded(written: WrittenComposition) {
  const found = expandLayout(written, CONTEXT);
  if (!found.ok) throw new Error(JSON.stringify(found.faults));
  return found.value.composition;
}

// Knees take 3 + 2 cells of each side, as a turned one is 2 wide and 3 high. Across: 5 cells,
// three bars of 4 and four gaps of a half, 19; down: 5, two bars and three gaps, 14.5.
test("turned: where each corner and the first bar of each side lie", () => {
  expect(expanded(framed()).layout).toEqual([
    { name: "frame.north-west", piece: "knee", at: [1, 2] },
    { name: "frame.north-east", piece: "knee", at: [1 + 19 - 2, 2], turn: -90 },
    { name: "frame.south-east", piece: "knee", at: [1 + 19 - 3, 2 + 14.5 - 2], turn: 180 },
    { name: "frame.south-west", piece: "knee", at: [1, 2 + 14.5 - 3], turn: 90 },
    { name: "frame.north", piece: "bar", at: [1 + 3.5, 2], repeat: { across: 3, every: [4.5, 0] } },
    {
      name: "frame.east",
      piece: "bar",
      at: [1 + 17, 2 + 3.5],
      repeat: { down: 2, every: [0, 4.5] },
      turn: -90,
    },
    {
      name: "frame.south",
      piece: "bar",
      at: [1 + 2.5, 2 + 12.5],
      repeat: { across: 3, every: [4.5, 0] },
      turn: 180,
    },
    { name: "frame.west", piece: "bar", at: [1, 2 + 2.5], repeat: { down: 2, every: [0, 4.5] }, turn: 90 },
  ]);
});

// Knees take 3 + 3 cells across and 2 + 2 down: 6 + 12 + 2 = 20 by 4 + 8 + 1.5 = 13.5.
test("mirrored: opposite corners and sides are images of each other", () => {
  expect(expanded(framed({ form: "mirrored" })).layout).toMatchObject([
    { at: [1, 2] },
    { at: [1 + 17, 2], mirror: true },
    { at: [1 + 17, 2 + 11.5], turn: 180 },
    { at: [1, 2 + 11.5], mirror: true, turn: 180 },
    { at: [1 + 3.5, 2] },
    { at: [1 + 18, 2 + 2.5], turn: -90 },
    { at: [1 + 3.5, 2 + 11.5], mirror: true, turn: 180 },
    { at: [1, 2 + 2.5], mirror: true, turn: 90 },
  ]);
});

test.each(["turned", "mirrored"] as const)("%s: the drawn frame is as symmetric as its form", (form) => {
  // Knees that look different from every side; bars that look alike from left and right only.
  const knee = ["+-+-+-+", "|o-oxo|", "+x+x+x+", "|oxoxo|", "+x+x+|+", "|oxoxo|", "+-+-+-+"];
  const bar = ["+-+-+-+-+", "|oxo|oxo|", "+x+x+x+x+", "|oxoxoxo|", "+-+-+-+-+"];
  const pieces = { knee: { panel: knee }, bar: { panel: bar } };
  const composed = composeDesign(framed({ form, across: 2, down: 2 }, { pieces }), CONTEXT);
  if (!composed.ok) throw new Error(JSON.stringify(composed.faults));
  const { diagram } = composed.value;
  const box = diagramBounds(diagram);
  const [cx, cy] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const places = (image: (x: number, y: number) => readonly [number, number]) =>
    Array.from({ length: crossingCount(diagram) }, (_, i) => {
      const [x, y] = image((diagram.x[i] ?? 0) - cx, (diagram.y[i] ?? 0) - cy);
      return `${Math.round(x * 1000) + 0} ${Math.round(y * 1000) + 0}`;
    }).sort();
  const own = places((x, y) => [x, y]);
  const quarter = places((x, y) => [-y, x]);
  const leftRight = places((x, y) => [-x, y]);
  const topBottom = places((x, y) => [x, -y]);
  const symmetric = form === "turned" ? [quarter] : [leftRight, topBottom];
  for (const image of symmetric) expect(image).toEqual(own);
  for (const image of form === "turned" ? [leftRight, topBottom] : [quarter]) expect(image).not.toEqual(own);
});

test("ties run clockwise from each piece to the next, and the last one closes the frame", () => {
  const { joins } = expanded(framed({ join: "tie", twists: 1, across: 2, down: 1 }));
  expect(joins.map(({ tie, twists }) => [tie?.map((bend) => bend.in), twists])).toEqual(
    [
      ["frame.north-west", "frame.north#1"],
      ["frame.north#1", "frame.north#2"],
      ["frame.north#2", "frame.north-east"],
      ["frame.north-east", "frame.east"],
      ["frame.east", "frame.south-east"],
      ["frame.south-east", "frame.south#2"],
      ["frame.south#2", "frame.south#1"],
      ["frame.south#1", "frame.south-west"],
      ["frame.south-west", "frame.west"],
      ["frame.west", "frame.north-west"],
    ].map((pair) => [pair, 1]),
  );
  // Ends of bars are 2 cells deep: the outer of the two middle bends lies half a cell from the
  // edge, on the lane a quarter of a cell inside each end.
  expect(joins[0]?.tie?.map(({ near }) => near)).toEqual([
    [1 + 3 - 0.25, 2 + 0.5],
    [1 + 3.5 + 0.25, 2 + 0.5],
  ]);
});

test.each(["turned", "mirrored"] as const)("%s, tied all round: one part, every twist a crossing", (form) => {
  const composed = composeDesign(framed({ form, join: "tie", twists: 1, gap: 2 }), CONTEXT);
  expect(composed.ok ? [] : composed.faults).toEqual([]);
  if (!composed.ok) return;
  const { faces, diagram, joins } = composed.value;
  // Plain panels have 2pq - p - q crossings: 7 in each of 4 knees, 10 in each of 10 bars; a tie
  // for each of the 14 neighbours.
  expect([joins.length, crossingCount(diagram)]).toEqual([14, 4 * 7 + 10 * 10 + 14]);
  // One part, so that Euler's count holds.
  expect([faces.parts, faces.count]).toEqual([1, crossingCount(diagram) + 2]);
});

test("a frame's name leads those of its pieces; its own joins follow the ties", () => {
  const own = { tie: [{ in: "border.north" }, { in: "x" }] };
  const layout = [
    { name: "border", frame: { corner: "knee", side: "bar", across: 1, down: 1, join: "tie" } },
  ] as const;
  const { layout: entries, joins } = expanded(framed({}, { layout: [...layout], joins: [own] }));
  expect(entries.map(({ name }) => name)).toContain("border.south-west");
  expect(joins.at(-1)).toBe(own);
});

test.each<[string, WrittenComposition, object]>([
  [
    "an unknown corner",
    framed({ corner: "kne" }),
    { code: "piece-unknown", path: ["layout", 0, "frame", "corner"] },
  ],
  [
    "an unknown side",
    framed({ side: "rod" }),
    { code: "piece-unknown", path: ["layout", 0, "frame", "side"] },
  ],
  [
    "a turned frame",
    framed({}, { layout: [{ turn: 90, frame: { corner: "knee", side: "bar", across: 1, down: 1 } }] }),
    { code: "unknown-key", path: ["layout", 0, "turn"], found: "turn" },
  ],
  [
    "an entry without a piece",
    framed({}, { layout: [{ at: [0, 0] }] }),
    { code: "missing-key", key: "piece" },
  ],
  [
    "an entry without a place",
    framed({}, { layout: [{ piece: "bar" }] }),
    { code: "missing-key", key: "at" },
  ],
  [
    "a frame over another piece",
    framed({}, { layout: [{ piece: "bar", at: [1, 2] }, ...framed().layout] }),
    { code: "pieces-overlap", path: ["layout", 1] },
  ],
  [
    "ties without room",
    framed({ join: "tie", twists: 9 }),
    { code: "bends-too-near", path: ["layout", 0, "frame", "join"] },
  ],
  [
    "a join of its own that names no piece, after the ties",
    framed({ join: "tie" }, { joins: [{ tie: [{ in: "nobody" }, { in: "frame.east#1" }] }] }),
    { code: "piece-unknown", path: ["joins", 0, "tie", 0, "in"] },
  ],
])("refused, told as it is written: %s", (_, written, fault) => {
  const composed = composeDesign(written, CONTEXT);
  const faults: readonly Fault[] = composed.ok ? [] : composed.faults;
  expect(faults).toMatchObject([fault]);
});
