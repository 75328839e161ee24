/**
 * Faces, connected parts and the two-colouring of a diagram.
 *
 * A face is walked with its inside on the left: from a half-edge to its twin, then to the next
 * slot clockwise. Seen so, the one face of each connected part that runs round the outside has
 * negative area. Each part is coloured by itself, its outer face light (so a part that lies
 * inside another's face shares that face as the light one).
 */

import { segmentsOf } from "../geometry/arc-chain.ts";
import { bowArea } from "../geometry/segment.ts";
import {
  type CrossingId,
  crossingCount,
  type HalfEdge,
  type KnotDiagram,
  nextSlot,
  twin,
} from "./knot-diagram.ts";

export interface Faces {
  /** The face to the left of each half-edge, which is also the face at the corner from its slot to the next. */
  readonly faceOf: Int32Array;
  /** One half-edge of each face. */
  readonly first: readonly HalfEdge[];
  /** The connected part of each face, and of each crossing. */
  readonly partOfFace: Int32Array;
  readonly partOfCrossing: Int32Array;
  /** The outer face of each part. */
  readonly outer: readonly number[];
  /** 1 for each dark face, 0 for each light one. */
  readonly dark: Uint8Array;
  /** Connected parts, closed loops without a crossing included. */
  readonly parts: number;
  /** Faces of the whole drawing: crossings + 1 + parts. */
  readonly count: number;
  /** Euler's count holds for every part: the diagram lies in the plane. */
  readonly planar: boolean;
}

export function findFaces(diagram: KnotDiagram): Faces {
  const { faceOf, first } = walkFaces(diagram);
  const { partOfCrossing, partCount } = findParts(diagram);
  const areas = faceAreas(diagram, faceOf, first.length);
  const partOfFace = new Int32Array(first.length);
  const outer = new Array<number>(partCount).fill(-1);
  const facesInPart = new Int32Array(partCount);
  for (const [face, half] of first.entries()) {
    const part = partOfCrossing[half >> 2] ?? -1;
    partOfFace[face] = part;
    facesInPart[part] = (facesInPart[part] ?? 0) + 1;
    const known = outer[part] ?? -1;
    if (known < 0 || (areas[face] ?? 0) < (areas[known] ?? 0)) outer[part] = face;
  }
  const crossingsInPart = new Int32Array(partCount);
  for (const part of partOfCrossing) crossingsInPart[part] = (crossingsInPart[part] ?? 0) + 1;
  const planar = facesInPart.every((faces, part) => faces === (crossingsInPart[part] ?? 0) + 2);
  const loops = diagram.loops.length;
  return {
    faceOf,
    first,
    partOfFace,
    partOfCrossing,
    outer,
    dark: colourFaces(diagram, faceOf, first.length, outer),
    parts: partCount + loops,
    // The parts' outer faces are one; each loop without a crossing cuts one more off.
    count: first.length - Math.max(0, partCount - 1) + loops + (partCount === 0 ? 1 : 0),
    planar,
  };
}

/** The half-edges round the face that begins with `half`, its inside on their left. */
export function* faceWalk(diagram: KnotDiagram, half: HalfEdge): Iterable<HalfEdge> {
  let at = half;
  do {
    yield at;
    at = nextSlot(twin(diagram, at), 3);
  } while (at !== half);
}

function walkFaces(diagram: KnotDiagram): { faceOf: Int32Array; first: HalfEdge[] } {
  const faceOf = new Int32Array(diagram.twin.length).fill(-1);
  const first: HalfEdge[] = [];
  for (let half = 0; half < faceOf.length; half++) {
    if (faceOf[half] !== -1) continue;
    for (const at of faceWalk(diagram, half)) faceOf[at] = first.length;
    first.push(half);
  }
  return { faceOf, first };
}

function findParts(diagram: KnotDiagram): { partOfCrossing: Int32Array; partCount: number } {
  const partOfCrossing = new Int32Array(crossingCount(diagram)).fill(-1);
  let partCount = 0;
  const waiting: CrossingId[] = [];
  for (let start = 0; start < partOfCrossing.length; start++) {
    if (partOfCrossing[start] !== -1) continue;
    partOfCrossing[start] = partCount;
    waiting.push(start);
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
      for (let slot = 0; slot < 4; slot++) {
        const next = twin(diagram, 4 * at + slot) >> 2;
        if (partOfCrossing[next] !== -1) continue;
        partOfCrossing[next] = partCount;
        waiting.push(next);
      }
    }
    partCount++;
  }
  return { partOfCrossing, partCount };
}

function faceAreas(diagram: KnotDiagram, faceOf: Int32Array, faces: number): Float64Array {
  const { x, y } = diagram;
  const areas = new Float64Array(faces);
  const add = (half: HalfEdge, area: number) => {
    const face = faceOf[half] ?? -1;
    areas[face] = (areas[face] ?? 0) + area;
  };
  for (let half = 0; half < faceOf.length; half++) {
    const other = twin(diagram, half);
    if (diagram.curves.has(half) || diagram.curves.has(other)) continue;
    const a = half >> 2;
    const b = other >> 2;
    add(half, ((x[a] ?? 0) * (y[b] ?? 0) - (y[a] ?? 0) * (x[b] ?? 0)) / 2);
  }
  for (const [half, curve] of diagram.curves) {
    let area = 0;
    for (const segment of segmentsOf(curve)) {
      const { from, to } = segment;
      area += (from.x * to.y - from.y * to.x) / 2 + bowArea(segment);
    }
    add(half, area);
    add(twin(diagram, half), -area);
  }
  return areas;
}

function colourFaces(
  diagram: KnotDiagram,
  faceOf: Int32Array,
  faces: number,
  outer: readonly number[],
): Uint8Array {
  // The colour of a face beside a crossing alternates with the slot: know one corner, know four.
  const corner0Dark = new Int8Array(crossingCount(diagram)).fill(-1);
  const waiting: CrossingId[] = [];
  const dark = new Uint8Array(faces);
  const outerFaces = new Set(outer);
  for (let half = 0; half < faceOf.length; half++) {
    const crossing = half >> 2;
    if (corner0Dark[crossing] !== -1 || !outerFaces.has(faceOf[half] ?? -1)) continue;
    corner0Dark[crossing] = half & 1;
    waiting.push(crossing);
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
      for (let slot = 0; slot < 4; slot++) {
        const colour = (corner0Dark[at] ?? 0) ^ (slot & 1);
        dark[faceOf[4 * at + slot] ?? -1] = colour;
        // The face on the left of an edge is the one clockwise of its twin.
        const there = nextSlot(twin(diagram, 4 * at + slot), 3);
        if (corner0Dark[there >> 2] !== -1) continue;
        corner0Dark[there >> 2] = colour ^ (there & 1);
        waiting.push(there >> 2);
      }
    }
  }
  return dark;
}
