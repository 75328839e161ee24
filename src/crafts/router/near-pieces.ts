/** Pieces of a region that lie close together taken as one: the corners of one pocket. */
import { groupBy } from "../../base/group-by.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { type Region, regionBounds } from "../../geometry/region.ts";
import { RegionIndex } from "./region-index.ts";

/** The pieces, those that lie nearer to each other than `withinMm` in one region. */
export function joinNearPieces(pieces: readonly Region[], withinMm: number): Region[] {
  const boxes = pieces.map(regionBounds);
  const near = new BoxIndex(boxes);
  const indexes = pieces.map((piece) => new RegionIndex(piece));
  const group = pieces.map((_, i) => i);
  const areNear = (a: number, b: number) => {
    const [small, large] = cornersOf(pieces[a]) < cornersOf(pieces[b]) ? [a, b] : [b, a];
    return pieces[small]?.rings.flat().some((point) => indexes[large]?.within(point, withinMm)) ?? false;
  };
  for (const [a, box] of boxes.entries()) {
    for (const b of near.near(box, withinMm)) {
      if (b <= a || group[a] === group[b] || !areNear(a, b)) continue;
      const [from, to] = [group[b], group[a]];
      for (const [i, g] of group.entries()) if (g === from) group[i] = to ?? g;
    }
  }
  return [...groupBy(group.entries(), ([, g]) => g)].map(([, members]) => ({
    rings: members.flatMap(([i]) => pieces[i]?.rings ?? []),
  }));
}

function cornersOf(region: Region | undefined): number {
  return region?.rings.reduce((sum, ring) => sum + ring.length, 0) ?? 0;
}
