import { expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import { writeStl } from "../../src/formats/stl.ts";
import { heightMesh } from "../../src/output/height-mesh.ts";
import { bumps, domes, fieldOf, walls } from "../output/sample-fields.ts";
import { externalTest, runTool, withFiles } from "../support/external.ts";

const MESHES = Object.entries({ bumps, domes, walls }).map(
  ([name, shape]) =>
    [name, heightMesh(fieldOf(120, 80, 0.25, shape), { bottomZMm: -12, deviationMm: 0.02 })] as const,
);

type Place = readonly [number, number, number];

/** Normal and corners of every facet, by the format's description (CHECKS 3.6). */
function readStl(file: Uint8Array): (readonly [Place, Place, Place, Place])[] {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  return Array.from({ length: view.getUint32(80, true) }, (_, facet) => {
    const place = (i: number): Place => {
      const at = 84 + 50 * facet + 12 * i;
      return [view.getFloat32(at, true), view.getFloat32(at + 4, true), view.getFloat32(at + 8, true)];
    };
    expect(view.getUint16(84 + 50 * facet + 48, true)).toBe(0);
    return [place(0), place(1), place(2), place(3)] as const;
  });
}

test.each(MESHES)("%s: 84 bytes and 50 a facet, and the heading does not begin with solid", (_, mesh) => {
  const file = writeStl(mesh);
  expect(file.length).toBe(84 + (50 * mesh.triangles.length) / 3);
  const heading = String.fromCharCode(...file.subarray(0, 80));
  expect(heading).not.toMatch(/^\s*solid/i);
  expect(heading).toContain("millimetres");
  expect(readStl(file)).toHaveLength(mesh.triangles.length / 3);
});

test.each(MESHES)("%s: normals are of length 1, square to their facets, and point outward", (_, mesh) => {
  let volume = 0;
  for (const [normal, a, b, c] of readStl(writeStl(mesh))) {
    const u = [b[0] - a[0], b[1] - a[1], b[2] - a[2]] as const;
    const v = [c[0] - a[0], c[1] - a[1], c[2] - a[2]] as const;
    const [nx, ny, nz] = normal;
    expect(Math.hypot(nx, ny, nz)).toBeCloseTo(1, 5);
    expect(Math.abs(nx * u[0] + ny * u[1] + nz * u[2]) / Math.hypot(...u)).toBeLessThan(1e-3);
    expect(Math.abs(nx * v[0] + ny * v[1] + nz * v[2]) / Math.hypot(...v)).toBeLessThan(1e-3);
    // Counter-clockwise corners turn about the normal.
    const turn = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]] as const;
    const twiceArea = nx * turn[0] + ny * turn[1] + nz * turn[2];
    expect(twiceArea).toBeGreaterThan(0);
    // Divergence theorem: of normals that point outward the sum is the volume, else minus that.
    volume += (twiceArea / 6) * (nx * a[0] + ny * a[1] + nz * a[2]);
  }
  // 30 x 20 mm, between 9 and 12 mm thick.
  expect(volume).toBeGreaterThan(600 * 9 * 0.99);
  expect(volume).toBeLessThan(600 * 12);
});

for (const [name, mesh] of MESHES) {
  externalTest(
    `stl_borders finds no open edge in ${name}, and three where a facet is missing`,
    ["stl_borders"],
    () => {
      const whole = writeStl(mesh);
      const torn = writeStl({ ...mesh, triangles: mesh.triangles.subarray(3) });
      withFiles({ "whole.stl": whole, "torn.stl": torn }, (pathOf) => {
        const borders = (file: string) => runTool("stl_borders", [pathOf(file)]).stdout.trim();
        expect([borders("whole.stl"), borders("torn.stl")]).toEqual(["0", "3"]);
      });
    },
  );
}

test("a facet without an area has the normal 0", () => {
  const positions = Float64Array.from([0, 0, 0, 1, 0, 0, 2, 0, 0]);
  const [facet] = readStl(writeStl({ positions, triangles: Uint32Array.from([0, 1, 2]) }));
  expect(facet?.[0]).toEqual([0, 0, 0]);
});

test("a corner that is not finite is a fault of ours", () => {
  const positions = Float64Array.from([0, 0, 0, 1, 0, 0, 0, Number.NaN, 0]);
  expect(() => writeStl({ positions, triangles: Uint32Array.from([0, 1, 2]) })).toThrow(InternalError);
});
