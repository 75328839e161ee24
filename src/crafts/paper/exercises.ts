/**
 * Sets of different exercises: plain lattices with breaklines at sites drawn by chance. Each has
 * a solution by construction, for every site inside holds a crossing or a breakline, and no two
 * are the same when turned or mirrored.
 */
import { findFaces } from "../../diagram/faces.ts";
import { crossingCount, type KnotDiagram } from "../../diagram/knot-diagram.ts";
import { findStrands } from "../../diagram/strands.ts";
import {
  innerSites,
  type LatticeSize,
  latticeSymmetries,
  patternKey,
  patternRows,
  SITE_CROSSING,
  SITE_LEVEL,
} from "./break-pattern.ts";
import { Pcg32 } from "./pcg32.ts";

export interface ExerciseWish {
  readonly size: LatticeSize;
  readonly count: number;
  /** 1 (easy) to 5: see {@link breaklinesOf}. */
  readonly difficulty: number;
  /** How many closed strands each is to have; any number when left out. */
  readonly strands?: number;
  readonly seed: number;
}

export interface Exercise {
  /** Panel text. */
  readonly rows: readonly string[];
  readonly diagram: KnotDiagram;
  readonly strands: number;
  readonly crossings: number;
  /** Inside; the boundary's are not counted. */
  readonly breaklines: number;
}

/** Panel text, drawn: given by who knows lattices. */
export type DrawPanel = (rows: readonly string[]) => KnotDiagram;

/** Each step of difficulty turns this share of the sites inside into breaklines. */
const SHARE_PER_STEP = 0.07;

/** How many breaklines an exercise of this difficulty has, at least one: 7 % of the sites inside a step. */
export function breaklinesOf(size: LatticeSize, difficulty: number): number {
  return Math.max(1, Math.round(innerSites(size).length * SHARE_PER_STEP * difficulty));
}

/** Tries for each exercise that is wanted; what has not come by then is too rare to wait for. */
const TRIES_EACH = 400;

/**
 * As many exercises as are wanted, or fewer where no more can be found: a lattice may be too small
 * for so many, or never give that number of strands. All hang together in one part, no strand
 * crosses nothing, and no crossing could be untwisted.
 */
export function makeExercises(wish: ExerciseWish, draw: DrawPanel): Exercise[] {
  const { size, count, difficulty, seed } = wish;
  const chance = new Pcg32(seed);
  const symmetries = latticeSymmetries(size);
  const sites = innerSites(size).length;
  const breaklines = Math.min(sites, breaklinesOf(size, difficulty));
  const seen = new Set<string>();
  const exercises: Exercise[] = [];
  for (let tries = TRIES_EACH * count; tries > 0 && exercises.length < count; tries--) {
    const pattern = drawPattern(sites, breaklines, chance);
    const key = patternKey(pattern, symmetries);
    if (seen.has(key)) continue;
    seen.add(key);
    const rows = patternRows(size, pattern);
    const diagram = draw(rows);
    const strands = findStrands(diagram).count;
    if (wish.strands !== undefined && strands !== wish.strands) continue;
    if (!isWorthDrawing(diagram)) continue;
    exercises.push({ rows, diagram, strands, crossings: crossingCount(diagram), breaklines });
  }
  return exercises;
}

/** A crossing with the same face on both sides could be untwisted (a reduced diagram has none: Kauffman, "State models and the Jones polynomial", Topology 26, 1987, from memory). */
function isWorthDrawing(diagram: KnotDiagram): boolean {
  const { parts, faceOf } = findFaces(diagram);
  if (parts !== 1 || diagram.loops.length > 0) return false;
  for (let first = 0; first < faceOf.length; first += 4) {
    if (faceOf[first] === faceOf[first + 2] || faceOf[first + 1] === faceOf[first + 3]) return false;
  }
  return true;
}

/** So many breaklines at different sites, each as likely (Fisher & Yates's shuffle, its first part; Knuth, TAOCP 2, algorithm P, from memory). */
function drawPattern(sites: number, breaklines: number, chance: Pcg32): number[] {
  const order = Array.from({ length: sites }, (_, i) => i);
  const pattern = new Array<number>(sites).fill(SITE_CROSSING);
  for (let i = 0; i < breaklines; i++) {
    const j = i + chance.below(sites - i);
    const picked = order[j] ?? 0;
    order[j] = order[i] ?? 0;
    order[i] = picked;
    pattern[picked] = SITE_LEVEL + chance.below(2);
  }
  return pattern;
}
