import fc from "fast-check";
import { expect, test } from "vitest";
import { type LaidSheet, layOut, type PartSize, type SheetSize } from "../../src/crafts/lay-out.ts";

const BED: SheetSize = { width: 600, height: 400, spacing: 3 };

/** Sorted by x, each compared with those that begin before it ends: quick enough for thousands. */
function expectApart(parts: readonly PartSize[], { places }: LaidSheet, spacing: number): void {
  const boxes = places
    .map(({ part, x, y }) => ({
      part,
      x,
      y,
      width: parts[part]?.width ?? 0,
      height: parts[part]?.height ?? 0,
    }))
    .sort((a, b) => a.x - b.x);
  for (const [i, a] of boxes.entries()) {
    for (const b of boxes.slice(i + 1)) {
      if (b.x >= a.x + a.width + spacing - 1e-9) break;
      const clear = b.y >= a.y + a.height + spacing - 1e-9 || a.y >= b.y + b.height + spacing - 1e-9;
      if (!clear) expect.fail(`parts ${a.part} and ${b.part} lie too near each other`);
    }
  }
}

function expectLaid(parts: readonly PartSize[], sheet: SheetSize): LaidSheet[] {
  const sheets = layOut(parts, sheet);
  const placed = sheets.flatMap(({ places }) => places.map(({ part }) => part)).sort((a, b) => a - b);
  expect(placed).toEqual(parts.map((_, i) => i));
  for (const laid of sheets) {
    expectApart(parts, laid, sheet.spacing);
    for (const { part, x, y } of laid.places) {
      expect(Math.min(x, y)).toBeGreaterThanOrEqual(0);
      expect(x + (parts[part]?.width ?? 0)).toBeLessThanOrEqual(laid.width + 1e-9);
      expect(y + (parts[part]?.height ?? 0)).toBeLessThanOrEqual(laid.height + 1e-9);
    }
  }
  return sheets;
}

test("random parts: all are placed, apart, within their sheets and within the bed", () => {
  const size = fc.double({ min: 2, max: 120, noNaN: true });
  fc.assert(
    fc.property(fc.array(fc.record({ width: size, height: size }), { maxLength: 80 }), (parts) => {
      for (const { width, height } of expectLaid(parts, BED)) {
        expect(width).toBeLessThanOrEqual(BED.width + 1e-9);
        expect(height).toBeLessThanOrEqual(BED.height + 1e-9);
      }
    }),
    { numRuns: 40, seed: 5 },
  );
});

test("no parts ask for no sheet", () => {
  expect(layOut([], BED)).toEqual([]);
});

test("2,000 parts are laid out in seconds", () => {
  const parts = Array.from({ length: 2000 }, (_, i) => ({
    width: 20 + ((i * 37) % 30),
    height: 8 + ((i * 17) % 12),
  }));
  const began = performance.now();
  const sheets = expectLaid(parts, BED);
  expect(performance.now() - began).toBeLessThan(15_000);
  const area = parts.reduce((sum, { width, height }) => sum + (width + 3) * (height + 3), 0);
  // Two thirds of the bed in use at least, over all sheets.
  expect(sheets.length).toBeLessThanOrEqual(Math.ceil((1.5 * area) / (600 * 400)));
});

test("a part larger than the bed gets a sheet of its own, as large as it is", () => {
  const sheets = expectLaid(
    [
      { width: 700, height: 20 },
      { width: 50, height: 20 },
      { width: 10, height: 500 },
    ],
    BED,
  );
  expect(Math.max(...sheets.map(({ width }) => width))).toBeGreaterThanOrEqual(700);
  expect(Math.max(...sheets.map(({ height }) => height))).toBeGreaterThanOrEqual(500);
});
