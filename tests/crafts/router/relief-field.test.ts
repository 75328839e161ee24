import { describe, expect, test } from "vitest";
import { reliefField } from "../../../src/crafts/router/relief-field.ts";
import { edgeClearances, ridgeSlopes } from "../../../src/crafts/router/relief-ridges.ts";
import type { RouterPanel } from "../../../src/crafts/router/router-panel.ts";
import type { DomeShape } from "../../../src/crafts/router/settings.ts";
import type { HeightField } from "../../../src/output/height-field.ts";
import { pixelNear, RELIEF_PITCH, RELIEF_WIDTH, reliefPanel, smallRelief } from "./relief-panels.ts";

/** Single precision at a few mm. */
const DIGITS = 5;
const HALF = RELIEF_WIDTH / 2;

/** Along the diagonal of a crossing from its middle: the over-strand's way for lean 1, if it leans like a slash. */
function overLean({ diagram }: RouterPanel, crossing: number): 1 | -1 {
  // The strand of slots 0 and 2 leaves by slot 0; its twin lies on that side.
  const slot = diagram.over[crossing] ?? 0;
  const far = (diagram.twin[4 * crossing + slot] ?? 0) >> 2;
  const dx = (diagram.x[far] ?? 0) - (diagram.x[crossing] ?? 0);
  const dy = (diagram.y[far] ?? 0) - (diagram.y[crossing] ?? 0);
  return dx * dy > 0 ? 1 : -1;
}

/** The crossing of a 3 x 3 panel that lies nearest to its middle: all four of its edges are straight. */
function middleCrossing({ diagram, size }: RouterPanel): { id: number; x: number; y: number } {
  let best = { id: 0, x: 0, y: 0, off: Number.POSITIVE_INFINITY };
  for (const [id, x] of diagram.x.entries()) {
    const y = diagram.y[id] ?? 0;
    const off = Math.hypot(x - size.width / 2, y - size.height / 2);
    if (off < best.off - 1e-6) best = { id, x, y, off };
  }
  return best;
}

/** A pixel near the place `along` and `across` mm from the crossing, as seen along the strand on top (or beneath), and where it is. */
function lookAt(
  field: HeightField,
  panel: RouterPanel,
  { along, across, beneath = false }: { along: number; across: number; beneath?: boolean },
): { along: number; across: number; z: number } {
  const { id, x, y } = middleCrossing(panel);
  const lean = overLean(panel, id) * (beneath ? -1 : 1);
  const way = { x: Math.SQRT1_2, y: lean * Math.SQRT1_2 };
  const pixel = pixelNear(field, x + way.x * along - way.y * across, y + way.y * along + way.x * across);
  const dx = pixel.x - x;
  const dy = pixel.y - y;
  return { along: dx * way.x + dy * way.y, across: way.x * dy - way.y * dx, z: pixel.z };
}

/** A circle through (0, 0) that has fallen by `height` at `reach`. */
function circleDrop(reach: number, height: number, at: number): number {
  const radius = (reach * reach + height * height) / (2 * height);
  return radius - Math.sqrt(radius * radius - at * at);
}

const DROPS: Record<DomeShape, (d: number) => number> = {
  round: (d) => circleDrop(HALF, 1.5, d),
  // Flat up to 1.5 mm from the edge, then a quarter circle of that radius.
  eased: (d) => (d < HALF - 1.5 ? 0 : 1.5 - Math.sqrt(1.5 ** 2 - (d - HALF + 1.5) ** 2)),
  "two-ridged": (d) => circleDrop(HALF / 2, 1.5, Math.abs(d - HALF / 2)),
};

const SHAPES: readonly DomeShape[] = ["round", "eased", "two-ridged"];

describe.each(SHAPES)("a %s dome", (dome) => {
  const settings = smallRelief({ dome });
  const panel = reliefPanel(settings, { columns: 3, rows: 3 });
  const field = reliefField(panel, settings);

  test.each([0, 0.6, 1.2, 1.8, 2.4, 3, 3.3])(
    "has its section on top of a crossing, %d mm from the ridge",
    (across) => {
      const seen = lookAt(field, panel, { along: 0.4, across });
      expect(seen.z).toBeCloseTo(-0.5 - DROPS[dome](Math.abs(seen.across)), DIGITS);
    },
  );

  test.each([-3, -1, 2, 3.4])("stays level across the crossing, %d mm along", (along) => {
    const seen = lookAt(field, panel, { along, across: 0.9 });
    expect(seen.z).toBeCloseTo(-0.5 - DROPS[dome](Math.abs(seen.across)), DIGITS);
  });

  test("dips to the under depth where it comes out from beneath", () => {
    const seen = lookAt(field, panel, { along: HALF + 0.3, across: 0.8, beneath: true });
    expect(seen.along).toBeGreaterThan(HALF);
    // Level up to half a width; then 10 t^3 - 15 t^4 + 6 t^5 over what is left of the edge, pitch / sqrt 2 long.
    const t = (seen.along - HALF) / (RELIEF_PITCH * Math.SQRT1_2 - RELIEF_WIDTH);
    const rise = 2.5 * t ** 3 * (10 - 15 * t + 6 * t * t);
    expect(seen.z).toBeCloseTo(-3 + rise - DROPS[dome](Math.abs(seen.across)), DIGITS);
  });

  test("passes half way between over and under in the middle of an edge", () => {
    const seen = lookAt(field, panel, { along: (RELIEF_PITCH * Math.SQRT1_2) / 2, across: 0.5 });
    // Steepest there: 1.875 x 2.5 mm over the slope's length.
    const off = seen.along - (RELIEF_PITCH * Math.SQRT1_2) / 2;
    const slope = (1.875 * 2.5) / (RELIEF_PITCH * Math.SQRT1_2 - RELIEF_WIDTH);
    expect(seen.z).toBeCloseTo(-1.75 - slope * off - DROPS[dome](Math.abs(seen.across)), 2);
  });
});

describe("ground and frame", () => {
  const settings = smallRelief({ borderDepthMm: 0.8 });
  const panel = reliefPanel(settings);
  const field = reliefField(panel, settings);

  test.each([
    ["the frame, 4.8 mm from the edge", 4.8, -0.8],
    ["the ground, 5.2 mm from the edge", 5.2, -5],
  ])("%s", (_, x, z) => {
    expect(pixelNear(field, x, panel.size.height / 2).z).toBeCloseTo(z, DIGITS);
  });

  test("without a frame the ground runs out to the edge", () => {
    const bare = reliefField(panel, { ...settings, frameMm: 0 });
    expect(pixelNear(bare, 0.1, panel.size.height / 2).z).toBeCloseTo(-5, DIGITS);
  });

  test("a ribbon's edge goes down to the ground in one step", () => {
    const { z } = lookAt(field, panel, { along: 0, across: 0 });
    expect(z).toBeCloseTo(-0.5, 2);
    // Half way between crossings, beside the ribbon, lies ground: nothing in between.
    const heights = new Set<string>();
    for (let across = 2; across < 5; across += 0.2) {
      const seen = lookAt(field, panel, { along: RELIEF_PITCH * Math.SQRT1_2 * 0.5, across });
      heights.add(Math.abs(seen.across) < HALF ? "ribbon" : seen.z.toFixed(3));
    }
    expect([...heights].sort()).toEqual(["-5.000", "ribbon"]);
  });
});

test("a pointed corner is mitred: both sides come down alike", () => {
  // Corners of a plain panel turn by a quarter; mirrored in the diagonal through the tip, the panel stays as it is.
  const settings = smallRelief();
  const panel = reliefPanel(settings, { columns: 3, rows: 3 });
  const field = reliefField(panel, settings);
  const tip = 10 - 0.1;
  const off: number[] = [];
  for (let i = 0; i < 20; i++)
    for (let j = 0; j < i; j++) {
      const a = pixelNear(field, tip + i * 0.2, tip + j * 0.2).z;
      const b = pixelNear(field, tip + j * 0.2, tip + i * 0.2).z;
      off.push(Math.abs(a - b));
    }
  expect(off.length).toBe(190);
  expect(Math.max(...off)).toBeLessThan(1e-4);
});

test("the mirrored weave gives the mirrored field", () => {
  // A plain panel is its own mirror image; only over and under change, to those of the other hand.
  // A width that is a whole number of pixels: 30 mm of centrelines, the ribbon, the border twice.
  const settings = smallRelief({ borderMm: (57 - 30 - RELIEF_WIDTH) / 2 });
  const here = reliefField(reliefPanel(settings, { hand: "Z" }), settings);
  const there = reliefField(reliefPanel(settings, { hand: "S" }), settings);
  expect([here.columns, there.columns]).toEqual([285, 285]);
  let worst = 0;
  let unlike = 0;
  for (let row = 0; row < here.rows; row++)
    for (let column = 0; column < here.columns; column++) {
      const a = here.z[row * here.columns + column] ?? 0;
      const b = there.z[row * here.columns + here.columns - 1 - column] ?? 0;
      worst = Math.max(worst, Math.abs(a - b));
      if (a !== there.z[row * here.columns + column]) unlike++;
    }
  expect(worst).toBeLessThan(1e-4);
  expect(unlike).toBeGreaterThan(1000);
});

describe("slopes and clearances", () => {
  test("of a plain panel", () => {
    const settings = smallRelief();
    const panel = reliefPanel(settings, { columns: 3, rows: 3 });
    const steepest = Math.max(...ridgeSlopes(panel, settings).map(({ value }) => value));
    // 1.875 x 2.5 mm over pitch / sqrt 2 less one width.
    const slope = (1.875 * 2.5) / (RELIEF_PITCH * Math.SQRT1_2 - RELIEF_WIDTH);
    expect(steepest).toBeCloseTo((Math.atan(slope) * 180) / Math.PI, 6);
    // Under depth less over depth less the dome.
    for (const { value } of edgeClearances(panel, settings)) expect(value).toBeCloseTo(1, 6);
  });

  test("where crossings leave too little between, the slope takes a quarter of the edge and the levels give way", () => {
    const settings = smallRelief({ ribbon: { ...smallRelief().ribbon, widthMm: 13 } });
    const panel = reliefPanel(settings, { columns: 3, rows: 3 });
    const edge = RELIEF_PITCH * Math.SQRT1_2;
    const steepest = Math.max(...ridgeSlopes(panel, settings).map(({ value }) => value));
    expect(steepest).toBeCloseTo((Math.atan((1.875 * 2.5) / (edge / 4)) * 180) / Math.PI, 6);
    const tightest = Math.min(...edgeClearances(panel, settings).map(({ value }) => value));
    // Half a width along, both ridges have gone this far towards each other.
    const t = (6.5 - (edge * 3) / 8) / (edge / 4);
    const gone = 2.5 * t ** 3 * (10 - 15 * t + 6 * t * t);
    expect(tightest).toBeCloseTo(1 - 2 * gone, 6);
  });
});
