/**
 * Binary STL (CHECKS 3.6): 80 bytes of heading, the number of facets, then 50 bytes a facet:
 * normal and three corners as little-endian 32-bit floats, and two bytes of nothing. The format
 * knows no unit; the heading says that it is mm. y and z stay up.
 */
import { InternalError } from "../base/internal-error.ts";
import type { TriangleMesh } from "../output/height-mesh.ts";

const HEADING_BYTES = 80;
const FACET_BYTES = 50;
/** Must not begin with "solid": that is how readers tell the other kind, which is text. */
const HEADING = "plaitwright: carved panel, lengths in millimetres, z up";

/**
 * The mesh as a binary STL file. Corners are rounded to 32 bits, and normals are those of the
 * rounded corners; a facet without an area has the normal 0.
 *
 * @throws InternalError for a corner that is not finite.
 */
export function writeStl({ positions, triangles }: TriangleMesh): Uint8Array {
  const count = triangles.length / 3;
  const bytes = new Uint8Array(HEADING_BYTES + 4 + FACET_BYTES * count).fill(0x20, 0, HEADING_BYTES);
  for (let i = 0; i < HEADING.length; i++) bytes[i] = HEADING.charCodeAt(i);
  const view = new DataView(bytes.buffer);
  view.setUint32(HEADING_BYTES, count, true);
  const corners = new Float32Array(9);
  for (let facet = 0; facet < count; facet++) {
    for (let i = 0; i < 9; i++) {
      const vertex = triangles[3 * facet + Math.floor(i / 3)] ?? 0;
      corners[i] = positions[3 * vertex + (i % 3)] ?? Number.NaN;
    }
    writeFacet(view, HEADING_BYTES + 4 + FACET_BYTES * facet, corners);
  }
  return bytes;
}

function writeFacet(view: DataView, offset: number, corners: Float32Array): void {
  const [ax = 0, ay = 0, az = 0, bx = 0, by = 0, bz = 0, cx = 0, cy = 0, cz = 0] = corners;
  const nx = (by - ay) * (cz - az) - (bz - az) * (cy - ay);
  const ny = (bz - az) * (cx - ax) - (bx - ax) * (cz - az);
  const nz = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
  if (!Number.isFinite(length)) throw new InternalError("a mesh with a corner that is not finite");
  const scale = length > 0 ? 1 / length : 0;
  view.setFloat32(offset, nx * scale, true);
  view.setFloat32(offset + 4, ny * scale, true);
  view.setFloat32(offset + 8, nz * scale, true);
  for (let i = 0; i < 9; i++) view.setFloat32(offset + 12 + 4 * i, corners[i] ?? 0, true);
}
