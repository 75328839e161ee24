/**
 * Planar diagram codes compared up to how edges are numbered, where strands begin and which way
 * they run: the least of all ways to write the code down by walking through it.
 */
import type { PlanarDiagramCode } from "../../src/diagram/planar-diagram-code.ts";

/** The parts' forms, sorted; equal for two codes iff the plane diagrams are the same (not mirrored). */
export function codeForm(code: PlanarDiagramCode): string[] {
  const ends = endsOfEdges(code);
  const seen = new Set<number>();
  const parts: string[] = [];
  for (let crossing = 0; crossing < code.length; crossing++) {
    if (seen.has(crossing)) continue;
    const part = walk(ends, crossing, 0).order;
    for (const one of part) seen.add(one);
    // The lower strand runs one way or the other: both ends of it may come first.
    const forms = part.flatMap((one) => [walk(ends, one, 0).form, walk(ends, one, 2).form]);
    parts.push(forms.sort()[0] ?? "");
  }
  return parts.sort();
}

/** The other end, 4 x crossing + slot, of the edge at each slot. */
function endsOfEdges(code: PlanarDiagramCode): Int32Array {
  const ends = new Int32Array(4 * code.length).fill(-1);
  const first = new Map<number, number>();
  for (const [at, edge] of code.flat().entries()) {
    const other = first.get(edge);
    if (other === undefined) first.set(edge, at);
    else {
      ends[at] = other;
      ends[other] = at;
    }
  }
  return ends;
}

/** Crossings in the order in which they are come by, each turned so that the slot of arrival is first. */
function walk(ends: Int32Array, crossing: number, slot: number): { form: string; order: number[] } {
  const base = new Map([[crossing, slot]]);
  const number = new Map([[crossing, 0]]);
  const order = [crossing];
  const words: string[] = [];
  for (let i = 0; i < order.length; i++) {
    const at = order[i] ?? 0;
    const from = base.get(at) ?? 0;
    // Slots 0 and 2 are the lower strand's.
    words.push(from % 2 === 0 ? "u" : "o");
    for (let turn = 0; turn < 4; turn++) {
      const other = ends[4 * at + ((from + turn) % 4)] ?? -1;
      const there = other >> 2;
      if (!number.has(there)) {
        number.set(there, order.length);
        base.set(there, other & 3);
        order.push(there);
      }
      words.push(`${number.get(there)}.${((other & 3) - (base.get(there) ?? 0) + 4) % 4}`);
    }
  }
  return { form: words.join(" "), order };
}
