/** The cut file as it is written, read back, and what the beam makes of it. */
import dxfParser from "dxf-parser";
import type { CutDrawing } from "../../../src/crafts/leather-inlay/cut-drawing.ts";
import type { InlayPart } from "../../../src/crafts/leather-inlay/parts.ts";
import { writeDxf } from "../../../src/formats/dxf/r2000.ts";
import type { ArcChain } from "../../../src/geometry/arc-chain.ts";
import type { LayerName } from "../../../src/output/drawing.ts";
import type { Shape } from "../../../src/ribbon/ribbon.ts";
import { grow, type Polygons, polygonOf } from "../../support/polygon-oracle.ts";
import type { PreparedInlay } from "./inlay-case.ts";
import type { Place } from "./rings.ts";

// At run time the package's export is the class itself; its types tell of a named export.
const Parser = dxfParser as unknown as typeof import("dxf-parser").DxfParser;

/** The paths of each layer of `cut.dxf`, in the order of the file, as an outside parser reads them. */
export function writtenLayers({ drawing }: CutDrawing): ReadonlyMap<LayerName, readonly ArcChain[]> {
  const layers = new Map<LayerName, ArcChain[]>();
  for (const entity of new Parser().parseSync(writeDxf(drawing))?.entities ?? []) {
    if (!("vertices" in entity) || !("shape" in entity)) throw new Error(`unexpected ${entity.type}`);
    const vertices = (entity.vertices as { x: number; y: number; bulge?: number }[]).map(
      ({ x, y, bulge = 0 }) => ({ x, y, bulge }),
    );
    const name = entity.layer as LayerName;
    const layer = layers.get(name) ?? [];
    layer.push({ closed: entity.shape === true, vertices });
    layers.set(name, layer);
  }
  return layers;
}

/** A part and its opening as the beam leaves them, the part lying in its opening. */
export interface CutPair {
  readonly part: Polygons;
  readonly opening: Polygons;
}

/**
 * Every pair of a job, from the written paths: the beam, a disc as wide as the kerf, takes half
 * its width on both sides of its path, so a part is its path's inside eroded, an opening its
 * path's inside dilated. Parts are moved back from their sheet by the motion that took them
 * there, which must not turn them over.
 */
export function cutPairs({ job, settings }: PreparedInlay): CutPair[] {
  const layers = writtenLayers(job.cut);
  const inlays = new WrittenPaths(job.cut, layers, "INLAY");
  const pockets = new WrittenPaths(job.cut, layers, "POCKET");
  const mirrored = settings.cutFace === "back";
  const half = settings.kerfMm / 2;
  const toGround = mirrored ? mirrorBack(job.size.width) : (place: Place) => place;
  return job.cut.sheets.flatMap((sheet) =>
    sheet.parts.map(({ part, inlay }) => {
      const back = motionBack(part, inlay, mirrored);
      const opening = pockets.of(part.opening, mirrored ? job.size.width : undefined);
      const cut = grow(inlays.of(inlay, undefined).map(polygonOf), -half, "round");
      return {
        opening: grow(opening.map(polygonOf), half, "round"),
        part: cut.map((ring) => ring.map((place) => toGround(back(place)))),
      };
    }),
  );
}

/** The written path that belongs to a path of the job: the file keeps the drawing's order. */
class WrittenPaths {
  readonly #byVertices = new Map<string, ArcChain>();

  constructor({ drawing }: CutDrawing, layers: ReadonlyMap<LayerName, readonly ArcChain[]>, name: LayerName) {
    const drawn = drawing.layers.find((layer) => layer.name === name)?.paths ?? [];
    const written = layers.get(name) ?? [];
    if (drawn.length !== written.length)
      throw new Error(`${name}: ${written.length} of ${drawn.length} paths`);
    for (const [i, path] of drawn.entries()) {
      const chain = written[i];
      if (chain) this.#byVertices.set(verticesKey(path), chain);
    }
  }

  /** Outline and holes; where `width` is given, of the shape mirrored in the panel of that width. */
  of({ outline, holes }: Shape, width: number | undefined): ArcChain[] {
    return [outline, ...holes].map((chain) => {
      const moved = width === undefined ? chain : mirrorChain(chain, width);
      const found = this.#byVertices.get(verticesKey(moved));
      if (!found) throw new Error("a path of the job is not in the file");
      return found;
    });
  }
}

/** The same for a chain begun at another vertex or run the other way. */
function verticesKey({ vertices }: ArcChain): string {
  return vertices
    .map(({ x, y }) => `${x.toFixed(6)} ${y.toFixed(6)}`)
    .sort()
    .join(",");
}

function mirrorChain(chain: ArcChain, width: number): ArcChain {
  const mirror = mirrorBack(width);
  return { ...chain, vertices: chain.vertices.map((vertex) => ({ ...vertex, ...mirror(vertex) })) };
}

function mirrorBack(width: number): (place: Place) => Place {
  return ({ x, y }) => ({ x: width - x, y });
}

/**
 * The motion from the sheet back to the panel's front view, found from the corners of the part
 * before and after: turned and moved for the front, mirrored too for the back. The corners of a
 * mirrored outline run the other way round, so that its inside is on the left again.
 */
function motionBack(part: InlayPart, placed: Shape, mirrored: boolean): (place: Place) => Place {
  const before = part.inlay.outline.vertices;
  const count = before.length;
  const there = placed.outline.vertices;
  const holes = part.inlay.holes.flatMap(({ vertices }) => vertices);
  const holesThere = placed.holes.flatMap(({ vertices }) => vertices);
  for (let start = 0; start < count; start++) {
    const after = before.map((_, i) => there[(mirrored ? start - i + count : start + i) % count] ?? ORIGIN);
    const back = motionBetween(after, before, mirrored);
    const isBack = (corner: Place, was: Place) => distance(back(corner), was) < 1e-6;
    if (!after.every((corner, i) => isBack(corner, before[i] ?? ORIGIN))) continue;
    // An outline may be symmetric where its holes are not.
    if (holesThere.every((corner) => holes.some((was) => isBack(corner, was)))) return back;
  }
  throw new Error("a part was not moved as a whole");
}

const ORIGIN: Place = { x: 0, y: 0 };

function distance(a: Place, b: Place): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

/** The turn and move that takes two corners of one list, far from each other, to those of the other. */
function motionBetween(
  from: readonly Place[],
  to: readonly Place[],
  mirrored: boolean,
): (place: Place) => Place {
  const far = Math.floor(from.length / 2);
  const [p = ORIGIN, q = ORIGIN, a = ORIGIN, b = ORIGIN] = [from[0], from[far], to[0], to[far]];
  const flip = mirrored ? -1 : 1;
  // Complex numbers: turn = (b - a) / (q - p), the latter conjugated when mirrored.
  const [dx, dy] = [q.x - p.x, flip * (q.y - p.y)];
  const angle = Math.atan2(b.y - a.y, b.x - a.x) - Math.atan2(dy, dx);
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return (place) => {
    const [x, y] = [place.x - p.x, flip * (place.y - p.y)];
    return { x: a.x + cos * x - sin * y, y: a.y + sin * x + cos * y };
  };
}
