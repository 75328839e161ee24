/**
 * A height field as a solid: a closed surface of triangles, mm, counter-clockwise seen from
 * outside.
 *
 * The upper face passes through the middle of every pixel, linear between them, and over the
 * half pixel from the outermost middles to the edge of the field it goes on level. With bilinear
 * cells the solid's volume is then exactly the sum over pixels of (z - bottom) x step^2 (the
 * trapezoid rule with level ends); the triangles stray from that by the stated deviation at most.
 */
import { InternalError } from "../base/internal-error.ts";
import { type GridTriangles, triangulateGrid } from "./grid-triangles.ts";
import type { HeightField } from "./height-field.ts";

export interface TriangleMesh {
  /** x, y, z of each vertex, mm. */
  readonly positions: Float64Array;
  /** Three vertices each. */
  readonly triangles: Uint32Array;
}

export interface MeshSettings {
  /** Height of the flat underside; below every height of the field. */
  readonly bottomZMm: number;
  /** How far the upper face may stray from the field, measured upright. */
  readonly deviationMm: number;
}

/**
 * The solid under a height field of at least 2 x 2 pixels, over the whole of its box.
 *
 * @throws InternalError for a height that is not above the underside.
 */
export function heightMesh(field: HeightField, { bottomZMm, deviationMm }: MeshSettings): TriangleMesh {
  // Written so that a height that is no number fails as well.
  if (!field.z.every((z) => z > bottomZMm))
    throw new InternalError("the mesh's underside is not below its field");
  const surface = triangulateGrid(field, deviationMm);
  const rim = rimOf(field, surface);
  const inner = surface.places.length;
  const centre = inner + 2 * rim.length;
  const positions = new Float64Array(3 * (centre + 1));
  const put = (vertex: number, x: number, y: number, z: number) => positions.set([x, y, z], 3 * vertex);

  surface.places.forEach((place, vertex) => {
    put(
      vertex,
      middleX(field, place % field.columns),
      middleY(field, Math.floor(place / field.columns)),
      field.z[place] ?? 0,
    );
  });
  rim.forEach(({ place, x, y }, i) => {
    put(inner + i, x, y, field.z[place] ?? 0);
    put(inner + rim.length + i, x, y, bottomZMm);
  });
  const { minX, minY, columns, rows, stepMm } = field;
  put(centre, minX + (columns * stepMm) / 2, minY + (rows * stepMm) / 2, bottomZMm);

  const edge = edgeTriangles(
    rim.map(({ place }) => surface.vertexAt[place] ?? 0),
    inner,
    centre,
  );
  const triangles = new Uint32Array(surface.triangles.length + edge.length);
  triangles.set(surface.triangles);
  triangles.set(edge, surface.triangles.length);
  return { positions, triangles };
}

interface RimPoint {
  /** The pixel whose height the point has. */
  readonly place: number;
  readonly x: number;
  readonly y: number;
}

/**
 * The edge of the field's box, counter-clockwise: each vertex of the outermost pixels moved out
 * to it, and the box's corners between.
 */
function rimOf(field: HeightField, { vertexAt }: GridTriangles): RimPoint[] {
  const { columns, rows, stepMm, minX, minY } = field;
  const [maxX, maxY] = [minX + columns * stepMm, minY + rows * stepMm];
  const rim: RimPoint[] = [];
  const side = (length: number, pointAt: (i: number) => RimPoint) => {
    for (let i = 0; i < length; i++) {
      const point = pointAt(i);
      if ((vertexAt[point.place] ?? -1) >= 0) rim.push(point);
    }
  };
  const corner = (place: number, x: number, y: number) => rim.push({ place, x, y });
  const [right, top] = [columns - 1, rows - 1];

  side(columns, (i) => ({ place: i, x: middleX(field, i), y: minY }));
  corner(right, maxX, minY);
  side(rows, (i) => ({ place: i * columns + right, x: maxX, y: middleY(field, i) }));
  corner(top * columns + right, maxX, maxY);
  side(columns, (i) => ({ place: top * columns + right - i, x: middleX(field, right - i), y: maxY }));
  corner(top * columns, minX, maxY);
  side(rows, (i) => ({ place: (top - i) * columns, x: minX, y: middleY(field, top - i) }));
  corner(0, minX, minY);
  return rim;
}

/**
 * What closes the upper face: the level strip from the outermost middles (`inside`, one for each
 * point of the rim) to the rim, the walls, and the underside as a fan round its centre. The rim's
 * vertices are numbered from `first` on, those below them after that.
 */
function edgeTriangles(inside: readonly number[], first: number, centre: number): number[] {
  const triangles: number[] = [];
  const count = inside.length;
  inside.forEach((a, i) => {
    const next = (i + 1) % count;
    const b = inside[next] ?? 0;
    const [outA, outB] = [first + i, first + next];
    const [lowA, lowB] = [outA + count, outB + count];
    triangles.push(a, outA, outB);
    // Round a corner the strip turns about one vertex.
    if (a !== b) triangles.push(a, outB, b);
    triangles.push(lowA, lowB, outB, lowA, outB, outA, centre, lowB, lowA);
  });
  return triangles;
}

function middleX({ minX, stepMm }: HeightField, column: number): number {
  return minX + (column + 0.5) * stepMm;
}

function middleY({ minY, stepMm }: HeightField, row: number): number {
  return minY + (row + 0.5) * stepMm;
}
