import { Resvg } from "@resvg/resvg-js";
import fc from "fast-check";
import { expect, test } from "vitest";
import { boxOutline, circleOutline } from "../../../src/crafts/panel-outline.ts";
import { type AppliqueCloth, appliqueBlocks } from "../../../src/crafts/stitch/applique.ts";
import { writeStitchesSvg } from "../../../src/formats/stitches-svg.ts";
import { type ArcChain, reverseChain, segmentsOf } from "../../../src/geometry/arc-chain.ts";
import { boundsOf } from "../../../src/geometry/bounds.ts";
import { nearestOn } from "../../../src/geometry/meet.ts";
import { distance, type Point } from "../../../src/geometry/point.ts";
import { ROLES, STITCH, type StitchRole, type ThreadBlock } from "../../../src/output/stitches.ts";
import { laceRibbons } from "../../../src/ribbon/laced.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { randomPanel } from "../../support/random-panel.ts";
import { sampleApplique } from "./sample-hand-work.ts";

const SETTINGS = sampleApplique();
/** Satin of 2.6 mm and the pull of 0.2 mm. */
const WIDTH = 2.8;

const BOX: ArcChain = boxOutline({ minX: 0, minY: 0, maxX: 40, maxY: 30 }, 0);
const CIRCLE = circleOutline({ x: 20, y: 15 }, 8);
/** A panel with a round hole. */
const CLOTH: AppliqueCloth = { shapes: [{ outline: BOX, holes: [reverseChain(CIRCLE)] }], lines: [] };

function stitchesOf({ x, y, kind, role }: ThreadBlock, wanted: StitchRole): [Point, Point][] {
  return [...x.keys()].flatMap((i): [Point, Point][] =>
    i > 0 && kind[i] === STITCH && ROLES[role[i] ?? -1] === wanted
      ? [
          [
            { x: x[i - 1] ?? 0, y: y[i - 1] ?? 0 },
            { x: x[i] ?? 0, y: y[i] ?? 0 },
          ],
        ]
      : [],
  );
}

function offLine(chains: readonly ArcChain[], point: Point): number {
  return Math.min(...chains.flatMap(segmentsOf).map((part) => distance(nearestOn(part, point), point)));
}

test("three blocks: placement line, tack-down, edge satin", () => {
  const blocks = appliqueBlocks(CLOTH, SETTINGS);
  expect(blocks.map(({ thread }) => thread.name)).toEqual(["placement line", "tack-down", "edge satin"]);
});

test("the placement line runs along every edge, with a hole at each corner", () => {
  const [placement] = appliqueBlocks(CLOTH, SETTINGS);
  const stitches = placement ? stitchesOf(placement, "mark") : [];
  for (const [, to] of stitches) expect(offLine([BOX, CIRCLE], to)).toBeLessThan(1e-6);
  for (const corner of BOX.vertices)
    expect(stitches.some(([, to]) => distance(to, corner) < 1e-9)).toBe(true);
  // 40 / 2.4 = 16.7 and 30 / 2.4 = 12.5 stitches a side; 2 pi 8 / sqrt(8 x 8 x 0.038) = 32.2 round the hole.
  expect(stitches).toHaveLength(2 * 17 + 2 * 13 + 33);
});

test("the tack-down runs on the cloth, as far inside as set", () => {
  const [, tack] = appliqueBlocks(CLOTH, SETTINGS);
  const stitches = tack ? stitchesOf(tack, "underlay") : [];
  expect(stitches.length).toBeGreaterThan(60);
  for (const [, { x, y }] of stitches) {
    // Inside the box and outside the hole.
    const inBox = Math.min(x, y, 40 - x, 30 - y);
    const inHole = Math.hypot(x - 20, y - 15) - 8;
    expect(Math.min(inBox, inHole)).toBeCloseTo(0.6, 6);
  }
});

test("the satin lies half on the cloth and half beside it", () => {
  const [, , satin] = appliqueBlocks(CLOTH, SETTINGS);
  const stitches = satin ? stitchesOf(satin, "cover") : [];
  let [inside, outside] = [0, 0];
  for (const [, point] of stitches) {
    const { x, y } = point;
    const onCloth = x > 0 && y > 0 && x < 40 && y < 30 && Math.hypot(x - 20, y - 15) > 8;
    if (onCloth) inside++;
    else outside++;
    // The tips of corners lie further off, by the root of 2.
    expect(offLine([BOX, CIRCLE], point)).toBeLessThanOrEqual((WIDTH / 2) * Math.SQRT2 + 1e-6);
  }
  expect(inside / outside).toBeGreaterThan(0.9);
  expect(inside / outside).toBeLessThan(1.1);
});

test("its lines lie as far apart along the outer edge as set", () => {
  const alone = { shapes: [{ outline: CIRCLE, holes: [] }], lines: [] };
  const [, , satin] = appliqueBlocks(alone, SETTINGS);
  // Outer edge 2 pi (8 + 1.4) / 0.42 = 140.6 rungs of two holes each; two rungs are sewn twice; the first hole
  // is come to by the ties.
  const count = satin ? stitchesOf(satin, "cover").length : 0;
  expect(Math.abs(count - (2 * (140.6 + 2) - 1))).toBeLessThanOrEqual(2);
});

test("no stitch is shorter than the least or longer than the width and a step", () => {
  for (const [, , satin] of [appliqueBlocks(CLOTH, SETTINGS)]) {
    for (const [from, to] of satin ? stitchesOf(satin, "cover") : []) {
      expect(distance(from, to)).toBeGreaterThanOrEqual(1 - 1e-6);
      expect(distance(from, to)).toBeLessThanOrEqual(WIDTH * Math.SQRT2 + 2 * 0.42);
    }
  }
});

test("thread covers the edge from side to side", () => {
  const blocks = appliqueBlocks(CLOTH, SETTINGS).slice(2);
  const bounds = { minX: -3, minY: -3, maxX: 43, maxY: 33 };
  const svg = writeStitchesSvg({ title: "", notes: [], bounds, blocks });
  const bare =
    "<style>#cloth, #jumps, #trims { display: none } path { stroke: #000 !important }</style></svg>";
  const perMm = 20;
  const { pixels, width } = new Resvg(svg.replace("</svg>", bare), {
    fitTo: { mode: "width", value: 46 * perMm },
  }).render();
  let [all, covered] = [0, 0];
  for (let row = 0; row < 36 * perMm; row++) {
    for (let column = 0; column < 46 * perMm; column++) {
      const [x, y] = [(column + 0.5) / perMm - 3, 33 - (row + 0.5) / perMm];
      const toBox = Math.max(Math.abs(x - 20) - 20, Math.abs(y - 15) - 15);
      const toCircle = Math.hypot(x - 20, y - 15) - 8;
      if (Math.min(Math.abs(toBox), Math.abs(toCircle)) > WIDTH / 2) continue;
      all++;
      covered += (pixels[4 * (row * width + column) + 3] ?? 0) / 255;
    }
  }
  // The issue asks for 98 % of a satin ribbon.
  expect(covered / all).toBeGreaterThan(0.98);
});

test("a laced panel: satin along the lines across, too, and every place within its bounds", () => {
  fc.assert(
    fc.property(randomPanel(4), (rows) => {
      const { diagram, faces } = wovenPanel(rows, "Z", {
        pitchMm: { across: 24, down: 24 },
        corner: "pointed",
      });
      const { bodies, troubles } = laceRibbons(diagram, faces, 8.6);
      if (troubles.length > 0) return;
      const lines = bodies.flatMap(({ crossingLines }) => crossingLines);
      const [placement, , satin] = appliqueBlocks({ shapes: bodies, lines }, SETTINGS);
      if (!placement || !satin) throw new Error("blocks are missing");
      const edges = bodies.flatMap(({ outline, holes }) => [outline, ...holes]);
      for (const [from, to] of stitchesOf(placement, "mark")) {
        expect(offLine(edges, to)).toBeLessThan(1e-6);
        expect(distance(from, to)).toBeLessThanOrEqual(2.4 + 1e-6);
      }
      const cover = stitchesOf(satin, "cover").map(([, to]) => to);
      for (const line of lines) {
        const [part] = segmentsOf(line);
        const middle = part && { x: (part.from.x + part.to.x) / 2, y: (part.from.y + part.to.y) / 2 };
        expect(middle && Math.min(...cover.map((hole) => distance(hole, middle)))).toBeLessThan(WIDTH);
      }
      const box = boundsOf(cover);
      const piece = boundsOf(edges.flatMap(({ vertices }) => vertices));
      expect(piece.minX - box.minX).toBeLessThan(2 * WIDTH);
    }),
    { numRuns: 12 },
  );
});
