import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Bridge, bridgeParts, type SeparatePart } from "../../../src/crafts/paper/bridges.ts";
import { layKnot } from "../../../src/crafts/paper/paper-knot.ts";
import { type PiercedPiece, piercePanel } from "../../../src/crafts/paper/pierced-piece.ts";
import { piercedDrawing, piercedJob, piercedTemplate } from "../../../src/crafts/paper/pierced-template.ts";
import type { PiercedSettings } from "../../../src/crafts/paper/settings.ts";
import { symmetriesOf } from "../../../src/crafts/paper/symmetry.ts";
import { polyline, signedArea } from "../../../src/geometry/arc-chain.ts";
import { between, distance, type Point } from "../../../src/geometry/point.ts";
import { regionArea } from "../../../src/geometry/region.ts";
import { transformPoint } from "../../../src/geometry/transform.ts";
import { externalTest, runReader, withFiles } from "../../support/external.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { randomPanel } from "../../support/random-panel.ts";
import { ribbonOf, wovenPanel } from "./woven-panel.ts";

const SETTINGS: PiercedSettings = {
  ribbon: ribbonOf(6, 2),
  outline: "rectangle",
  borderMm: 12,
  cornerRadiusMm: 0,
  pierce: "ground",
  crossings: "joined",
  frameMm: 6,
  bridgeWidthMm: 2,
  mostBridgeMm: 10,
  symmetric: false,
  leastWebMm: 1.5,
  startHoleMm: 1,
  mostReachMm: 200,
};

function pierced(rows: readonly string[], changes: Partial<PiercedSettings> = {}): PiercedPiece {
  const settings = { ...SETTINGS, ...changes };
  return piercePanel(layKnot(wovenPanel(rows), settings), settings);
}

/** A square as a part; its lower left corner and its side. */
function square(x: number, y: number, side: number): SeparatePart {
  const ring: Point[] = [
    { x, y },
    { x: x + side, y },
    { x: x + side, y: y + side },
    { x, y: y + side },
  ];
  return { region: { rings: [ring] }, chains: [polyline(ring, true)] };
}

interface BridgesReport {
  readonly parts: number;
  readonly least: number;
  readonly groups: number;
  readonly touched: readonly number[];
  readonly left: number;
  readonly valid: boolean;
}

function report(
  pieces: readonly { readonly parts: readonly SeparatePart[]; readonly bridges: readonly Bridge[] }[],
) {
  const texts = pieces.map(({ parts, bridges }) => ({
    parts: parts.map(({ region }) => region.rings.map((ring) => ring.map(({ x, y }) => [x, y]))),
    bridges: bridges.map(({ outline }) => outline.vertices.map(({ x, y }) => [x, y])),
  }));
  return withFiles(
    { "pieces.json": JSON.stringify(texts) },
    (pathOf) => runReader("bridges_report.py", [pathOf("pieces.json")]) as readonly BridgesReport[],
  );
}

function total(bridges: readonly Bridge[]): number {
  return bridges.reduce((sum, { lengthMm }) => sum + lengthMm, 0);
}

describe("bridges", () => {
  test("squares in a row hang on each other, each bridge in the middle of the facing sides", () => {
    // Sides of 10, 4 apart: a bridge of 4 from the middle of one to the middle of the next.
    const bridges = bridgeParts([square(0, 0, 10), square(14, 0, 10), square(28, 0, 10)], {
      widthMm: 2,
      reachMm: 1,
    });
    expect(bridges).toHaveLength(2);
    for (const [i, { onA, onB, lengthMm, held }] of bridges.entries()) {
      expect(lengthMm).toBeCloseTo(4, 9);
      expect([onA.y, onB.y]).toEqual([expect.closeTo(5, 6), expect.closeTo(5, 6)]);
      expect(Math.min(onA.x, onB.x)).toBeCloseTo(10 + 14 * i, 6);
      expect(held).toBe(true);
    }
  });

  test("a bridge that is wider than its part is told", () => {
    const [bridge] = bridgeParts([square(0, 0, 10), square(14, 4, 1)], { widthMm: 2, reachMm: 1 });
    expect(bridge?.held).toBe(false);
  });

  externalTest(
    "are the least spanning tree of scattered parts",
    ["python:shapely", "python:networkx"],
    () => {
      const scattered = fc
        .array(
          fc.record({
            cell: fc.nat(99),
            dx: fc.double({ min: 0, max: 4, noNaN: true }),
            side: fc.integer({ min: 2, max: 5 }),
          }),
          {
            minLength: 2,
            maxLength: 25,
          },
        )
        // One square to a cell of 10 x 10, so that none overlap.
        .map((drawn) => [...new Map(drawn.map((own) => [own.cell, own])).values()])
        .map((own) =>
          own.map(({ cell, dx, side }) => square((cell % 10) * 10 + dx, Math.floor(cell / 10) * 10, side)),
        );
      const pieces = fc.sample(scattered, { numRuns: 40, seed: 1 }).map((parts) => ({
        parts,
        bridges: bridgeParts(parts, { widthMm: 1, reachMm: 3 }),
      }));
      for (const [i, { parts, least, groups }] of report(pieces).entries()) {
        const bridges = pieces[i]?.bridges ?? [];
        expect(bridges).toHaveLength(parts - 1);
        expect(groups).toBe(1);
        // A bridge may stand where it is longer by the 0.02 mm within which places count as near.
        expect(total(bridges)).toBeGreaterThanOrEqual(least - 1e-6);
        expect(total(bridges)).toBeLessThanOrEqual(least + 0.02 * parts);
      }
    },
  );
});

describe("pierced panels", () => {
  const ways: readonly Partial<PiercedSettings>[] = [
    { pierce: "ground", crossings: "joined" },
    { pierce: "ground", crossings: "gapped" },
    { pierce: "ribbon", crossings: "joined" },
    { pierce: "ribbon", crossings: "gapped" },
    { pierce: "ground", crossings: "gapped", frameMm: 0 },
  ];

  externalTest(
    "random ones hold together by the fewest and shortest bridges",
    ["python:shapely", "python:networkx"],
    () => {
      const pieces = fc
        .sample(randomPanel(3), { numRuns: 6, seed: 2 })
        .flatMap((rows) => ways.map((way) => pierced(rows, way)));
      const reports = report(pieces);
      expect(reports.some(({ parts }) => parts > 5)).toBe(true);
      for (const [i, { parts, least, groups, left, valid, touched }] of reports.entries()) {
        const piece = pieces[i];
        if (!piece) throw new Error("no piece");
        expect(valid).toBe(true);
        expect(piece.left).toBe(1);
        expect(left).toBe(1);
        expect(groups).toBe(1);
        expect(piece.bridges).toHaveLength(parts - 1);
        for (const many of touched) expect(many).toBeGreaterThanOrEqual(2);
        // Two hundredths for the place, two thousandths for the arcs at each end.
        expect(total(piece.bridges)).toBeLessThanOrEqual(least + 0.024 * parts);
        expect(total(piece.bridges)).toBeGreaterThanOrEqual(least - 0.004 * parts);
      }
    },
  );

  test.each([
    // One connected knot and the frame.
    { way: { pierce: "ground", crossings: "joined" }, parts: 2 },
    // 12 crossings, so 12 ribbon pieces, and the frame.
    { way: { pierce: "ground", crossings: "gapped" }, parts: 13 },
    // Euler: crossings + 1 faces inside, and the ground outside.
    { way: { pierce: "ribbon", crossings: "joined" }, parts: 14 },
    // The ground hangs together through the gaps.
    { way: { pierce: "ribbon", crossings: "gapped" }, parts: 1 },
    // The knot alone.
    { way: { pierce: "ground", crossings: "joined", frameMm: 0 }, parts: 1 },
  ] as const)("a plain panel of 3 x 3, $way: $parts parts", ({ way, parts }) => {
    const piece = pierced(plainPanel(3, 3), way);
    expect(piece.parts).toHaveLength(parts);
    expect(piece.bridges).toHaveLength(parts - 1);
    expect(piece.left).toBe(1);
  });

  test.each([
    // Joined ribbons show no over and under: all of the lattice's symmetries. With gaps the weave
    // shows: turns keep its hand, mirrors do not (DESIGN.md, "Weave hand").
    { rows: plainPanel(3, 3), crossings: "joined", symmetries: 8 },
    { rows: plainPanel(3, 3), crossings: "gapped", symmetries: 4 },
    { rows: plainPanel(3, 2), crossings: "joined", symmetries: 4 },
    { rows: plainPanel(3, 2), crossings: "gapped", symmetries: 2 },
  ] as const)(
    "$symmetries turns and mirrors keep it, and its symmetric bridges",
    ({ rows, crossings, symmetries }) => {
      const piece = pierced(rows, { crossings, symmetric: true });
      expect(piece.symmetries).toBe(symmetries);
      expect(piece.left).toBe(1);
      expect(piece.bridges.length).toBeGreaterThanOrEqual(piece.parts.length - 1);
      const middles = piece.bridges.map(({ onA, onB }) => between(onA, onB, 0.5));
      for (const by of symmetriesOf(piece.whole)) {
        for (const at of middles) {
          const image = transformPoint(at, by);
          expect(Math.min(...middles.map((other) => distance(other, image)))).toBeLessThan(0.1);
        }
      }
      expect(symmetriesOf(piece.whole)).toHaveLength(symmetries);
    },
  );

  test("three loops beside each other: an island in each is held (arcs about one centre)", () => {
    const piece = pierced(["+ + + +", " o|o|o ", "+ + + +"], { pierce: "ribbon", outline: "knot" });
    expect(piece.bridges).toHaveLength(3);
    expect(piece.left).toBe(1);
    // A ribbon is 6 mm wide.
    for (const { lengthMm, held } of piece.bridges) {
      expect(lengthMm).toBeCloseTo(6, 2);
      expect(held).toBe(true);
    }
  });

  test("openings and what stays make up the panel", () => {
    const settings = { ...SETTINGS, symmetric: true };
    const job = piercedJob(wovenPanel(plainPanel(3, 2)), settings);
    const { width, height } = job.knot.size;
    const open = job.piece.openings.reduce((sum, { edge }) => sum + signedArea(edge), 0);
    // Arcs fitted to chords, 0.002 mm along some 1000 mm of edges.
    expect(Math.abs(open + regionArea(job.piece.whole) - width * height)).toBeLessThan(2);
    const template = piercedTemplate("Test", job, settings);
    expect(template.size).toEqual({ width, height });
    expect(template.groups.map(({ name, items }) => [name, items.length])).toEqual([
      ["openings", 1],
      ["bridges", 1],
      ["starts", 1],
      ["edge", 1],
    ]);
    const drawing = piercedDrawing("Test", job, settings);
    expect(drawing.layers.map(({ name, worked, paths }) => [name, worked, paths.length])).toEqual([
      ["POCKET", true, job.piece.openings.length],
      ["KEEP", false, job.piece.bridges.length],
      ["PANEL", true, 1],
    ]);
  });

  test.each([
    { rule: "least-web", changes: {}, verdict: "pass" },
    { rule: "least-web", changes: { bridgeWidthMm: 1 }, verdict: "fail" },
    { rule: "bridge-length", changes: {}, verdict: "pass" },
    // The knot lies 6 mm from the frame.
    { rule: "bridge-length", changes: { mostBridgeMm: 5.9 }, verdict: "fail" },
    { rule: "start-hole", changes: { startHoleMm: 10 }, verdict: "fail" },
    { rule: "single-hold", changes: { mostReachMm: 40 }, verdict: "warning" },
    { rule: "single-hold", changes: { mostReachMm: 40, symmetric: true }, verdict: "pass" },
  ] as const)("$rule with $changes: $verdict", ({ rule, changes, verdict }) => {
    const { checks } = piercedJob(wovenPanel(plainPanel(3, 2)), { ...SETTINGS, ...changes });
    expect(checks.find((check) => check.rule === rule)?.verdict).toBe(verdict);
  });

  test("the narrowest web is as wide as the bridge that it is", () => {
    const { checks } = piercedJob(wovenPanel(plainPanel(3, 2)), { ...SETTINGS, bridgeWidthMm: 1.2 });
    const web = checks.find((check) => check.rule === "least-web");
    // Known to a quarter of a twentieth of a millimetre, twice.
    expect(Math.abs((web?.measured ?? 0) - 1.2)).toBeLessThan(0.03);
    expect(web?.places).toHaveLength(1);
  });
});
