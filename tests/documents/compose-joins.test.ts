/** Joins as a design asks for them: bends named or chosen, hands, and what is refused. */
import { expect, test } from "vitest";
import { explain } from "../../src/base/explain.ts";
import type { Fault, OtherBends } from "../../src/base/fault.ts";
import { crossingCount } from "../../src/diagram/knot-diagram.ts";
import { diagramHand } from "../../src/diagram/weave.ts";
import { compose, composed, faultOf, type Joins, type Layout, type Pieces } from "../join/composed.ts";
import { expectSound, kinks } from "../join/sound.ts";
import { plainPanel } from "../support/plain-panel.ts";

const PIECES: Pieces = { a: { panel: plainPanel(2, 3) }, dot: { panel: ["+-+", "|o|", "+-+"] } };

/** Two panels, two cells apart. */
const PAIR: Layout = [
  { name: "left", piece: "a", at: [0, 0] },
  { name: "right", piece: "a", at: [4, 0] },
];

const MIRRORED: Layout = [
  { name: "left", piece: "a", at: [0, 0] },
  { name: "right", piece: "a", at: [4, 0], mirror: true },
];

type End = NonNullable<Joins[number]["tie"]>[number];

function places({ joins }: ReturnType<typeof composed>) {
  return joins.map(({ at }) => at.map(({ x, y }) => [Number(x.toFixed(6)), Number(y.toFixed(6))]));
}

// The lane beside the site at row 3, column 4 lies a quarter of the pitch inward, at (17.5, -15);
// the lower left corner of all centrelines is (2.5, -27.5).
test.each<readonly [string, End, End]>([
  ["by their sites", { in: "left", bend: [3, 4] }, { in: "right", bend: [3, 0] }],
  ["by near places", { in: "left", near: [2, 1.6] }, { in: "right", near: [4, 1.3] }],
  ["by the tool", { in: "left" }, { in: "right" }],
  ["one by the tool", { in: "left" }, { in: "right", bend: [3, 0] }],
])("bends named %s", (_, left, right) => {
  for (const layout of [PAIR, MIRRORED]) {
    const { bend, ...named } = right;
    // The mirror image has the site at the other end of its row.
    const other: End = bend && layout === MIRRORED ? { ...named, bend: [3, 4] } : right;
    const made = composed(PIECES, layout, [{ tie: [left, other] }]);
    expect(places(made)).toEqual([
      [
        [15, 12.5],
        [40, 12.5],
      ],
    ]);
  }
});

test("of mirrored pieces with an even number of bends one of the two middle ones is taken", () => {
  const tall = { tall: { panel: plainPanel(1, 6) } };
  const layout: Layout = [
    { name: "left", piece: "tall", at: [0, 0] },
    { name: "right", piece: "tall", at: [3, 0], mirror: true },
  ];
  const [at] = composed(tall, layout, [{ tie: [{ in: "left" }, { in: "right" }] }]).joins[0]?.at ?? [];
  // Bends lie half a cell from both ends of each cell; the middle is at 27.5 of 55 mm.
  expect(Math.abs((at?.y ?? 0) - 27.5)).toBeCloseTo(5, 6);
});

test("each strand of a tie of pieces on one lattice is a lane: half a pitch apart, straight", () => {
  const { diagram } = composed(PIECES, PAIR, [{ tie: [{ in: "left" }, { in: "right" }] }]);
  const lanes = [...diagram.curves.values()].flatMap(({ vertices }) =>
    vertices.flatMap((from, i) => {
      const to = vertices[i + 1];
      return to && from.bulge === 0 && Math.min(from.x, to.x) < 25 && Math.max(from.x, to.x) > 35
        ? [[from.y, to.y]]
        : [];
    }),
  );
  const heights = lanes.flat().sort((p, q) => p - q);
  expect(heights).toHaveLength(4);
  for (const [i, wanted] of [-17.5, -17.5, -12.5, -12.5].entries()) expect(heights[i]).toBeCloseTo(wanted, 9);
});

test("tied side by side with one twist, two panels are one fused panel", () => {
  const beside: Layout = [
    { name: "left", piece: "a", at: [0, 0] },
    { name: "right", piece: "a", at: [2, 0] },
  ];
  const fused = (site: string) => {
    const rows = plainPanel(4, 3).map((row, r) => (r % 2 === 1 ? `${row.slice(0, 4)}|${row.slice(5)}` : row));
    return {
      one: { panel: rows.map((row, r) => (r === 3 ? `${row.slice(0, 4)}${site}${row.slice(5)}` : row)) },
    };
  };
  for (const [twists, site] of [
    [1, "x"],
    [0, "-"],
  ] as const) {
    const tie = [
      { in: "left", bend: [3, 4] as [number, number] },
      { in: "right", bend: [3, 0] as [number, number] },
    ];
    const tied = composed(PIECES, beside, [{ tie, twists }]);
    const whole = composed(fused(site), [{ piece: "one", at: [0, 0] }]);
    expect(drawnPoints(tied.diagram)).toEqual(drawnPoints(whole.diagram));
    expect(diagramHand(tied.diagram, tied.faces)).toBe(diagramHand(whole.diagram, whole.faces));
  }
});

/** Every crossing, and every end of every segment. */
function drawnPoints({ x, y, curves }: ReturnType<typeof composed>["diagram"]): string[] {
  const tidy = (value: number) => (Math.round(value * 1e6) / 1e6 + 0).toFixed(5);
  const points = [...x].map((own, i) => `x ${tidy(own)} ${tidy(y[i] ?? 0)}`);
  for (const { vertices } of curves.values())
    points.push(...vertices.map((vertex) => `${tidy(vertex.x)} ${tidy(vertex.y)}`));
  return [...new Set(points)].sort();
}

test("hands: of two that differ exactly one is exchanged, that of the second one named", () => {
  const exchanged = (layout: Layout, ...ends: string[]) =>
    composed(PIECES, layout, [{ tie: ends.map((name) => ({ in: name })) }]).pieces.map(
      (piece) => piece.exchanged,
    );
  expect(exchanged(PAIR, "left", "right")).toEqual([false, false]);
  expect(exchanged(MIRRORED, "left", "right")).toEqual([false, true]);
  expect(exchanged(MIRRORED, "right", "left")).toEqual([true, false]);
});

const ROW: Layout = [
  { name: "1", piece: "a", at: [0, 0] },
  { name: "2", piece: "a", at: [4, 0], mirror: true },
  { name: "3", piece: "a", at: [8, 0] },
  { name: "4", piece: "a", at: [12, 0], mirror: true },
];

function tie(a: string, b: string, match: "exchange" | "strict" = "exchange"): Joins[number] {
  return { tie: [{ in: a }, { in: b }], match };
}

test("hands are those that earlier joins have given", () => {
  const { pieces, diagram, faces } = composed(PIECES, ROW, [tie("1", "2"), tie("2", "3", "strict")]);
  expect(pieces.map(({ hand, exchanged }) => `${hand}${exchanged}`)).toEqual([
    "Zfalse",
    "Strue",
    "Zfalse",
    "Sfalse",
  ]);
  expect(faces.parts).toBe(2);
  expect(diagramHand(diagram, faces)).toBeNull();
  const fault = faultOf(PIECES, ROW, [tie("1", "2"), tie("3", "2", "strict"), tie("3", "4", "strict")]);
  expect(fault).toEqual({
    code: "hands-differ",
    a: "3",
    b: "4",
    handA: "Z",
    handB: "S",
    path: ["joins", 2, "tie"],
  });
  // A whole part takes the other hand, not only the piece that is tied.
  const all = composed(
    PIECES,
    ROW,
    [tie("1", "2"), tie("3", "4"), tie("4", "1")].slice(0, 2).concat(tie("2", "3")),
  );
  expect(all.pieces.map(({ exchanged }) => exchanged)).toEqual([false, true, false, true]);
  expect(diagramHand(all.diagram, all.faces)).toBe("Z");
});

test("a piece that is tied already is tied by its own strands", () => {
  const made = composed(PIECES, ROW, [tie("1", "2"), tie("2", "3"), tie("3", "4")]);
  // Lanes a quarter of the pitch inside of the edges at 20, 40, 60 ... mm, less 2.5 mm for the corner.
  expect(places(made).map((at) => at.map(([x]) => x))).toEqual([
    [15, 40],
    [55, 80],
    [95, 120],
  ]);
  const near: Joins = [{ tie: [{ in: "1", near: [2, 2.5] }, { in: "3" }] }];
  expect(faultOf(PIECES, ROW, [tie("1", "2"), ...near])).toMatchObject({
    code: "tie-in-the-way",
    path: ["joins", 1, "tie"],
  });
});

test("a piece of several parts is of its hand in all of them, and each can be tied by itself", () => {
  const two = {
    two: {
      panel: plainPanel(6, 2).map((row, r) =>
        r % 2 === 0 ? `${row.slice(0, 5)}   ${row.slice(8)}` : `${row.slice(0, 4)}     ${row.slice(9)}`,
      ),
      hand: "S",
    },
  } as const;
  const apart = composed(two, [{ piece: "two", at: [0, 0] }]);
  expect(apart.faces.parts).toBe(2);
  expect(diagramHand(apart.diagram, apart.faces)).toBe("S");
  const layout: Layout = [
    { piece: "two", at: [0, 0] },
    { piece: "a", at: [8, 0] },
  ];
  const made = composed({ ...PIECES, ...two }, layout, [{ tie: [{ in: "a" }, { in: "two" }] }]);
  expect(made.faces.parts).toBe(2);
  expect(made.pieces.map(({ exchanged }) => exchanged)).toEqual([true, false]);
});

test("strands that cross nothing are tied like any other, in a chain too", () => {
  const layout: Layout = [
    { name: "left", piece: "a", at: [0, 0] },
    { name: "knot", piece: "dot", at: [4, 1] },
    { name: "knob", piece: "dot", at: [7, 1] },
    { name: "right", piece: "a", at: [10, 0], mirror: true },
  ];
  const joins = [tie("left", "knot", "strict"), tie("knot", "knob", "strict"), tie("knob", "right")];
  const free = composed(PIECES, layout);
  const { diagram, strands, pieces } = composed(PIECES, layout, joins);
  expect(free.strands.count - strands.count).toBe(3);
  expect(diagram.loops).toHaveLength(0);
  expect(pieces.map(({ exchanged }) => exchanged)).toEqual([false, false, false, true]);
  expectSound(diagram, { corners: kinks(free.diagram), pitch: 10, firstNew: crossingCount(free.diagram) });
  // Hooked, two of them are the Hopf link: two crossings.
  const hooked = composed(
    PIECES,
    layout.slice(1, 3).map((entry, i) => ({ ...entry, at: [4 * i, 0] })),
    [{ hook: [{ in: "knot" }, { in: "knob" }] }],
  );
  expect([crossingCount(hooked.diagram), hooked.strands.count]).toEqual([2, 2]);
});

test("circles face each other wherever they lie", () => {
  const beside =
    '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40"><circle cx="20" cy="20" r="18"/></svg>';
  const layout: Layout = [
    { name: "big", piece: "c", at: [0, 0] },
    { name: "other", piece: "c", at: [5, 3], turn: 77 },
  ];
  const pieces = { c: { strands: "c.svg" } };
  const { joins, diagram } = composed(
    pieces,
    layout,
    [{ tie: [{ in: "big" }, { in: "other" }], twists: 2 }],
    { beside },
  );
  // Centres (50, -30) apart, both bends lie on the line between them: 18 mm from each.
  const [p, q] = joins[0]?.at ?? [];
  expect(Math.hypot((q?.x ?? 0) - (p?.x ?? 0), (q?.y ?? 0) - (p?.y ?? 0))).toBeCloseTo(
    Math.hypot(50, 30) - 36,
    2,
  );
  expectSound(diagram, { corners: [], pitch: 10, firstNew: 0 });
});

const BLOCKED: Layout = [
  { name: "left", piece: "a", at: [0, 0] },
  { name: "post", piece: "dot", at: [3, 1] },
  { name: "right", piece: "a", at: [5, 0] },
];

const MIDDLES: Joins = [
  {
    tie: [
      { in: "left", bend: [3, 4] },
      { in: "right", bend: [3, 0] },
    ],
  },
];

test("faults of a join: code, path, names and places", () => {
  const refused = (layout: Layout, ...joins: Joins) => faultOf(PIECES, layout, joins);
  expect(refused(PAIR, tie("left", "rigth"))).toEqual({
    code: "piece-unknown",
    found: "rigth",
    known: ["right"],
    path: ["joins", 0, "tie", 1, "in"],
  });
  expect(refused(PAIR, tie("left", "right"), tie("right", "left"))).toEqual({
    code: "same-part",
    a: "right",
    b: "left",
    path: ["joins", 1, "tie"],
  });
  expect(refused(PAIR, tie("left", "left"))).toMatchObject({ code: "same-part", a: "left", b: "left" });
  expect(
    refused(PAIR, { tie: [{ in: "left" }, { in: "right" }], hook: [{ in: "left" }, { in: "right" }] }),
  ).toEqual({
    code: "several-pieces",
    found: ["tie", "hook"],
    path: ["joins", 0],
  });
  expect(refused(PAIR, { hook: [{ in: "left" }, { in: "right" }], twists: 1 })).toMatchObject({
    code: "number-out-of-range",
    path: ["joins", 0, "twists"],
  });
  expect(refused(ROW, { tie: [{ in: "1" }, { in: "2" }, { in: "3" }], twists: 2 })).toMatchObject({
    code: "number-out-of-range",
    greatest: 1,
    path: ["joins", 0, "twists"],
  });
  // Not a breakline; one inside; a drawing that has no rows.
  for (const bend of [
    [2, 2],
    [9, 99],
    [3, 2],
  ] as [number, number][])
    expect(refused(PAIR, { tie: [{ in: "left", bend }, { in: "right" }] })).toEqual({
      code: "no-outer-bend",
      piece: "left",
      path: ["joins", 0, "tie", 0],
    });
});

test("bends that look away", () => {
  const fault = faultOf(PIECES, PAIR, [
    {
      tie: [
        { in: "left", bend: [3, 0] },
        { in: "right", bend: [3, 4] },
      ],
    },
  ]);
  expect(fault).toMatchObject({ code: "bends-not-facing", a: "left", b: "right", path: ["joins", 0, "tie"] });
  if (fault.code === "bends-not-facing") expect(fault.angleDeg).toBeCloseTo(180, 6);
  expectWouldDo(fault, PAIR, "both");
});

test("too many twists for the room: what there is and what it takes", () => {
  const three = (twists: number, gap: number): [Layout, Joins] => [
    [
      { name: "left", piece: "a", at: [0, 0] },
      { name: "right", piece: "a", at: [2 + gap, 0] },
    ],
    [{ tie: [{ in: "left" }, { in: "right" }], twists }],
  ];
  // Legs end a quarter of the pitch inside: 2.5 + 10 + 2.5 mm at a gap of one cell.
  const fault = faultOf(PIECES, ...three(3, 1));
  expect(fault).toMatchObject({ code: "bends-too-near", a: "left", b: "right", path: ["joins", 0, "tie"] });
  if (fault.code !== "bends-too-near") return;
  expect(fault.haveMm).toBeCloseTo(15, 9);
  expect(compose(PIECES, ...three(3, 1 + (fault.needMm - 15) / 10 + 1e-9)).ok).toBe(true);
  // Three twists take two pitches and a half: on the lattice that fits exactly.
  expect(compose(PIECES, ...three(3, 2)).ok).toBe(true);
  const hook = faultOf(
    PIECES,
    PAIR.map((entry, i) => ({ ...entry, at: [3.5 * i, 0] })),
    [{ hook: [{ in: "left" }, { in: "right" }] }],
  );
  expect(hook).toMatchObject({ code: "bends-too-near", path: ["joins", 0, "hook"] });
});

test("a strand in the way is named, be it of a piece, a loop, or an earlier tie", () => {
  const fault = faultOf(PIECES, BLOCKED, MIDDLES);
  expect(fault).toMatchObject({ code: "tie-in-the-way", piece: "post", path: ["joins", 0, "tie"] });
  // The one cell's strand runs from 32.5 to 37.5 mm, the box begins at 2.5.
  if (fault.code === "tie-in-the-way") {
    expect(fault.atMm.x).toBeGreaterThan(28);
    expect(fault.atMm.x).toBeLessThan(37);
  }
  expectWouldDo(fault, BLOCKED, "both");
  const panelBetween = BLOCKED.map((entry) =>
    entry.name === "post" ? { ...entry, piece: "a", at: [2.5, 0] as [number, number] } : entry,
  );
  expect(faultOf(PIECES, panelBetween, MIDDLES)).toMatchObject({ code: "tie-in-the-way", piece: "post" });
  const cross: Layout = [
    { name: "west", piece: "dot", at: [0, 4] },
    { name: "east", piece: "dot", at: [8, 4] },
    { name: "north", piece: "dot", at: [4, 0] },
    { name: "south", piece: "dot", at: [4, 8] },
  ];
  const crossed = faultOf(PIECES, cross, [tie("west", "east"), { ...tie("north", "south"), twists: 3 }]);
  expect(crossed).toMatchObject({ code: "tie-in-the-way", path: ["joins", 1, "tie"] });
});

test("a bend of one piece that would do beside the other as it is", () => {
  const tall: Pieces = { ...PIECES, a: { panel: plainPanel(2, 5) } };
  const layout: Layout = [
    { name: "left", piece: "a", at: [0, 0] },
    { name: "post", piece: "dot", at: [3, 2] },
    { name: "right", piece: "a", at: [9, 0] },
  ];
  const ends = (near: readonly [number, number]): Joins => [
    {
      tie: [
        { in: "left", near: [near[0], near[1]] },
        { in: "right", bend: [5, 0] },
      ],
    },
  ];
  const fault = faultOf(tall, layout, ends([2, 2.5]));
  expect(fault.code).toBe("tie-in-the-way");
  const told =
    (fault.code === "tie-in-the-way" && fault.wouldDo?.filter(({ piece }) => piece === "left")) || [];
  expect(told.length).toBeGreaterThan(0);
  for (const { near } of told) expect(compose(tall, layout, ends(near)).ok).toBe(true);
});

test("the words of what is in the way, and of what would do", () => {
  // Cells are 10 mm; the lanes lie 2.5 mm inside, those of the cells above the middle 25 mm up less 2.5.
  expect(explain(faultOf(PIECES, BLOCKED, MIDDLES))).toMatch(
    /^`joins\[0\].tie`: the tie would come too near to a strand of `post` at \([\d.]+, [\d.]+\) mm from the lower left\. Name other bends, or move the pieces\. Bends that would do together: `left` near \[1\.75, [02]\.5\], which is \(15, 2?2\.5\) mm and `right` near \[5\.25, [02]\.5\], which is \(50, 2?2\.5\) mm\.$/,
  );
});

test("the tool looks for bends with a clear way itself", () => {
  const made = composed(PIECES, BLOCKED, [tie("left", "right")]);
  expect(made.faces.parts).toBe(2);
  const [p] = made.joins[0]?.at ?? [];
  // The middles of the cells above and below the middle one.
  expect(Math.abs((p?.y ?? 0) - 12.5)).toBeCloseTo(10, 6);
});

/** Every bend that a fault names does what it says. */
function expectWouldDo(fault: Fault, layout: Layout, which: "one" | "both"): void {
  const key = which === "one" ? "wouldDo" : "wouldDoTogether";
  const told = (key in fault && (fault as OtherBends)[key]) || [];
  expect(told.length).toBeGreaterThan(0);
  expect(explain(fault)).toContain(which === "one" ? "Bends that would do: " : "would do together: ");
  const [join] = MIDDLES;
  const tried = which === "both" ? [told] : told.map((bend) => [bend]);
  for (const bends of tried) {
    const ends = join?.tie?.map((end) => {
      const bend = bends.find(({ piece }) => piece === end.in);
      return bend ? { in: end.in, near: [...bend.near] as [number, number] } : end;
    });
    const made = compose(PIECES, layout, [{ tie: ends ?? [] }]);
    expect(made.ok ? "made" : made.faults.map(explain)).toBe("made");
  }
}

test("four pieces round a point are tied at their corners, whatever their order", () => {
  const layout: Layout = [{ piece: "a", at: [1, 1], around: { centre: [0, 0], times: 4 } }];
  for (const order of [
    [1, 2, 3, 4],
    [3, 1, 4, 2],
  ]) {
    const made = composed(PIECES, layout, [{ tie: order.map((i) => ({ in: `a#${i}` })) }]);
    expect([made.faces.parts, made.faces.count]).toEqual([1, crossingCount(made.diagram) + 2]);
    // Pointed corners, a quarter of the pitch inside: (12.5, -12.5), and 27.5 or 37.5 to the box.
    expect(
      places(made)[0]
        ?.map((at) => at.join(" "))
        .sort(),
    ).toHaveLength(4);
  }
});
