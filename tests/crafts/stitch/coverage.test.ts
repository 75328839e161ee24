/** Thread of real width laid on a raster: the cloth is covered where the ribbon is, and nowhere else. */
import { expect, test } from "vitest";
import type { KnotDiagram } from "../../../src/diagram/knot-diagram.ts";
import { findStrands } from "../../../src/diagram/strands.ts";
import type { Point } from "../../../src/geometry/point.ts";
import { grow, type Region, regionBounds, regionHolds, regionOf } from "../../../src/geometry/region.ts";
import { makeRibbons } from "../../../src/ribbon/ribbon.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { BORDER_OF_THREE, plainPanel } from "../../support/plain-panel.ts";
import { columnCase, loopDiagram, polygon, ring, star } from "./column-case.ts";
import { sampleSatin } from "./sample-settings.ts";

const PIXEL_MM = 0.1;
const { threadWidthMm, pullMm, ribbon } = sampleSatin();

const square = { across: 10, down: 10 };
const CASES: readonly { readonly name: string; readonly diagram: KnotDiagram }[] = [
  { name: "pointed corners", diagram: wovenPanel(plainPanel(2, 2)).diagram },
  {
    name: "round corners",
    diagram: wovenPanel(plainPanel(2, 2), "Z", { pitchMm: square, corner: "round" }).diagram,
  },
  {
    name: "a stretched lattice",
    diagram: wovenPanel(plainPanel(2, 2), "Z", { pitchMm: { across: 10, down: 14 }, corner: "pointed" })
      .diagram,
  },
  { name: "a border", diagram: wovenPanel(BORDER_OF_THREE).diagram },
  { name: "a ring", diagram: loopDiagram([ring(0, 0, 6)]) },
  { name: "a triangle", diagram: loopDiagram([polygon(3, 9)]) },
  { name: "a hexagon", diagram: loopDiagram([polygon(6, 8)]) },
  { name: "an octagon", diagram: loopDiagram([polygon(8, 8)]) },
  { name: "a star", diagram: loopDiagram([star(4, 9, 5)]) },
];

test.each(CASES)("$name: at least 98 % covered, at most 1 % beyond", ({ diagram }) => {
  const { columns } = columnCase(diagram);
  // Without gaps: pieces run on beneath each other.
  const nominal = makeRibbons(diagram, findStrands(diagram), { widthMm: ribbon.widthMm, gapMm: -0.3 });
  const chains = nominal.pieces.flatMap(({ outline, holes }) => [outline, ...holes]);
  const region = regionOf(chains, 0.005);
  const raster = new Raster(region);
  for (const { rungs, centreline } of columns) {
    const points = rungs.flatMap(({ left, right }) => [left, right]);
    // A ring is sewn on to where it began.
    if (centreline.closed) points.push(...points.slice(0, 2));
    for (const [i, to] of points.slice(1).entries()) raster.draw(points[i] ?? to, to);
  }
  const beyond = grow(region, pullMm / 2 + threadWidthMm / 2, 0.005);
  const counted = raster.count(region, beyond);
  expect(counted.covered / counted.inside).toBeGreaterThanOrEqual(0.98);
  expect(counted.outside / counted.inside).toBeLessThanOrEqual(0.01);
});

class Raster {
  readonly #minX: number;
  readonly #minY: number;
  readonly #columns: number;
  readonly #rows: number;
  readonly #sewn: Uint8Array;

  constructor(region: Region) {
    const box = regionBounds(region);
    this.#minX = box.minX - 2;
    this.#minY = box.minY - 2;
    this.#columns = Math.ceil((box.maxX - box.minX + 4) / PIXEL_MM);
    this.#rows = Math.ceil((box.maxY - box.minY + 4) / PIXEL_MM);
    this.#sewn = new Uint8Array(this.#columns * this.#rows);
  }

  #middle(column: number, row: number): Point {
    return { x: this.#minX + (column + 0.5) * PIXEL_MM, y: this.#minY + (row + 0.5) * PIXEL_MM };
  }

  /** A line of thread: every pixel whose middle lies within half its width. */
  draw(from: Point, to: Point): void {
    const reach = threadWidthMm / 2;
    const left = Math.floor((Math.min(from.x, to.x) - reach - this.#minX) / PIXEL_MM);
    const right = Math.ceil((Math.max(from.x, to.x) + reach - this.#minX) / PIXEL_MM);
    const below = Math.floor((Math.min(from.y, to.y) - reach - this.#minY) / PIXEL_MM);
    const above = Math.ceil((Math.max(from.y, to.y) + reach - this.#minY) / PIXEL_MM);
    const [dx, dy] = [to.x - from.x, to.y - from.y];
    const squared = dx * dx + dy * dy || 1;
    for (let row = below; row <= above; row++) {
      for (let column = left; column <= right; column++) {
        const { x, y } = this.#middle(column, row);
        const t = Math.min(1, Math.max(0, ((x - from.x) * dx + (y - from.y) * dy) / squared));
        if (Math.hypot(x - from.x - t * dx, y - from.y - t * dy) <= reach)
          this.#sewn[row * this.#columns + column] = 1;
      }
    }
  }

  count(region: Region, beyond: Region) {
    let [inside, covered, outside] = [0, 0, 0];
    for (let row = 0; row < this.#rows; row++) {
      for (let column = 0; column < this.#columns; column++) {
        const sewn = this.#sewn[row * this.#columns + column] === 1;
        const point = this.#middle(column, row);
        const isInside = regionHolds(region, point);
        if (isInside) inside++;
        if (isInside && sewn) covered++;
        if (sewn && !isInside && !regionHolds(beyond, point)) outside++;
      }
    }
    return { inside, covered, outside };
  }
}
