/**
 * The independent reader of meshes is manifold-3d, which refuses what is not closed, consistently
 * turned and free of doubled facets; it finds volume and genus by itself.
 */
import fc from "fast-check";
import Module, { type ManifoldToplevel } from "manifold-3d";
import { beforeAll, expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import type { HeightField } from "../../src/output/height-field.ts";
import { heightMesh, type TriangleMesh } from "../../src/output/height-mesh.ts";
import { bumps, domes, fieldOf, walls } from "./sample-fields.ts";

let manifold: ManifoldToplevel;
beforeAll(async () => {
  manifold = await Module();
  manifold.setup();
});

const BOTTOM = -18;

function judge({ positions, triangles }: TriangleMesh) {
  const vertProperties = Float32Array.from(positions);
  const solid = new manifold.Manifold(new manifold.Mesh({ numProp: 3, vertProperties, triVerts: triangles }));
  const facts = { status: solid.status(), volume: solid.volume(), genus: solid.genus() };
  solid.delete();
  return facts;
}

/** The definition: sum over pixels of height above the underside times the pixel's area. */
function fieldVolume({ z, stepMm }: HeightField): number {
  return z.reduce((sum, height) => sum + (height - BOTTOM), 0) * stepMm ** 2;
}

/** How far the upper face lies off each pixel's height, found by going through all facets that look up. */
function strays(
  { positions, triangles }: TriangleMesh,
  field: HeightField,
): { worst: number; covered: number } {
  const seen = new Map<number, number>();
  const corner = (i: number): [number, number, number] => {
    const at = 3 * (triangles[i] ?? 0);
    return [positions[at] ?? 0, positions[at + 1] ?? 0, positions[at + 2] ?? 0];
  };
  const { columns, stepMm } = field;
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [corner(i), corner(i + 1), corner(i + 2)];
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    if (area < 1e-9) continue; // walls stand upright, the underside looks down
    const pixel = (value: number) => Math.ceil(value / stepMm - 0.5 - 1e-6);
    for (
      let row = pixel(Math.min(a[1], b[1], c[1]));
      (row + 0.5) * stepMm <= Math.max(a[1], b[1], c[1]) + 1e-6;
      row++
    ) {
      for (
        let column = pixel(Math.min(a[0], b[0], c[0]));
        (column + 0.5) * stepMm <= Math.max(a[0], b[0], c[0]) + 1e-6;
        column++
      ) {
        const [x, y] = [(column + 0.5) * stepMm, (row + 0.5) * stepMm];
        const shareOf = (p: typeof a, q: typeof a) =>
          ((q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0])) / area;
        const [toC, toA, toB] = [shareOf(a, b), shareOf(b, c), shareOf(c, a)];
        if (Math.min(toA, toB, toC) < -1e-9) continue;
        const height = toA * a[2] + toB * b[2] + toC * c[2];
        const off = Math.abs(height - (field.z[row * columns + column] ?? Number.NaN));
        seen.set(row * columns + column, Math.max(off, seen.get(row * columns + column) ?? 0));
      }
    }
  }
  return { worst: Math.max(...seen.values()), covered: seen.size };
}

/**
 * Halving a side of 32 pixels (8 mm) again and again moves each new middle by 0.15 mm: no single
 * middle is off by more, but all of them together are.
 */
function crumpled(x: number): number {
  const wave = (share: number) => 1 - Math.abs((((share % 1) + 1) % 1) - 0.5) * 2;
  return -3 + 0.15 * [1, 2, 4, 8, 16].reduce((sum, times) => sum + wave(((x - 0.125) / 8) * times), 0);
}

const SHAPES = {
  crumpled,
  bumps,
  walls,
  domes,
  flat: () => -1,
  slope: (x: number, y: number) => -x / 9 - y / 7,
};
const SIZES = [
  [2, 2],
  [3, 2],
  [2, 9],
  [33, 17], // squares of 2^k cells exactly
  [34, 18],
  [100, 61],
] as const;
const CASES = Object.keys(SHAPES).flatMap((shape) =>
  SIZES.flatMap(([columns, rows]) =>
    [0, 0.02, 0.2].map((deviation) => [shape as keyof typeof SHAPES, columns, rows, deviation] as const),
  ),
);

test.each(CASES)(
  "%s over %d x %d pixels within %d mm: closed, one piece without holes, near every pixel",
  (shape, columns, rows, deviationMm) => {
    const field = fieldOf(columns, rows, 0.25, SHAPES[shape]);
    const mesh = heightMesh(field, { bottomZMm: BOTTOM, deviationMm });
    const { status, volume, genus } = judge(mesh);
    expect(status).toBe("NoError");
    expect(genus).toBe(0);
    const { worst, covered } = strays(mesh, field);
    expect(covered).toBe(columns * rows);
    expect(worst).toBeLessThanOrEqual(deviationMm + 1e-6);
    // No part of the face is further off than the deviation, and cells differ from bilinear ones only where they are warped.
    const warped =
      shape === "walls" || shape === "domes" ? 0.01 * fieldVolume(field) : 1e-3 * columns * rows * 0.0625;
    expect(Math.abs(volume - fieldVolume(field))).toBeLessThanOrEqual(
      deviationMm * columns * rows * 0.0625 + warped,
    );
  },
);

test.each([
  ["bumps", bumps, 0.02],
  ["walls", walls, 0.02],
  ["domes", domes, 0.02],
] as const)("a panel of %s has the volume of its field within a thousandth", (_, shape, deviationMm) => {
  const field = fieldOf(600, 400, 0.1, shape);
  const { status, volume, genus } = judge(heightMesh(field, { bottomZMm: BOTTOM, deviationMm }));
  expect([status, genus]).toEqual(["NoError", 0]);
  expect(Math.abs(volume / fieldVolume(field) - 1)).toBeLessThan(1e-3);
});

test("any heights give a closed solid that keeps within the deviation", () => {
  const heights = fc.array(fc.integer({ min: -400, max: 0 }), { minLength: 4, maxLength: 130 });
  fc.assert(
    fc.property(
      heights,
      fc.integer({ min: 2, max: 9 }),
      fc.integer({ min: 0, max: 150 }),
      (list, wide, hundredths) => {
        const columns = Math.min(wide, Math.floor(list.length / 2));
        const rows = Math.floor(list.length / columns);
        const field = {
          columns,
          rows,
          stepMm: 0.5,
          minX: 0,
          minY: 0,
          z: Float32Array.from(list.slice(0, columns * rows), (z) => z / 100),
        };
        const mesh = heightMesh(field, { bottomZMm: BOTTOM, deviationMm: hundredths / 100 });
        expect(judge(mesh)).toMatchObject({ status: "NoError", genus: 0 });
        expect(strays(mesh, field).worst).toBeLessThanOrEqual(hundredths / 100 + 1e-6);
      },
    ),
    { numRuns: 60 },
  );
});

test("the solid fills the field's box, from the underside to the highest pixel", () => {
  const field = { ...fieldOf(40, 30, 0.5, bumps), minX: 100, minY: -7 };
  const { positions } = heightMesh(field, { bottomZMm: BOTTOM, deviationMm: 0 });
  const extent = (axis: number) => {
    const values = positions.filter((_, i) => i % 3 === axis);
    return [Math.min(...values), Math.max(...values)];
  };
  expect(extent(0)).toEqual([100, 120]);
  expect(extent(1)).toEqual([-7, 8]);
  expect(extent(2)).toEqual([BOTTOM, Math.max(...field.z)]);
});

test("a flat panel of 257 x 257 pixels is two triangles and what closes them", () => {
  // The rim has two points a side and the corners between: 12 points. Each has a strip of the upper
  // face (one triangle round a corner, else two: 4 x 2 + 8), two of the wall and one of the underside.
  const mesh = heightMesh(
    fieldOf(257, 257, 0.1, () => -1),
    { bottomZMm: BOTTOM, deviationMm: 0.01 },
  );
  expect(mesh.triangles.length / 3).toBe(2 + (4 * 2 + 8) + 12 * 2 + 12);
});

test.each([
  ["a height at the underside", fieldOf(4, 4, 1, (x) => (x > 3 ? BOTTOM : 0))],
  ["a height that is no number", fieldOf(4, 4, 1, (x) => (x > 3 ? Number.NaN : 0))],
  ["a single row of pixels", fieldOf(4, 1, 1, () => 0)],
])("a fault of ours is told: %s", (_, field) => {
  expect(() => heightMesh(field, { bottomZMm: BOTTOM, deviationMm: 0.1 })).toThrow(InternalError);
});
