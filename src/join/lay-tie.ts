/** A planned tie laid into a diagram. */
import { type KnotDiagram, twin } from "../diagram/knot-diagram.ts";
import type { Bend } from "./bend.ts";
import type { OpenedBend, Side, Stub } from "./open-bend.ts";
import { layRoutes } from "./route.ts";
import type { Tie } from "./tie.ts";
import { type WireEnd, Wiring } from "./wiring.ts";

/** The diagram with the tie in it; crossings keep their numbers, new ones follow. Weave it anew. */
export function layTie(diagram: KnotDiagram, { bends, strands, crossings }: Tie): KnotDiagram {
  const wiring = new Wiring(diagram);
  const ends = bends.map(({ bend, open }) => snip(diagram, wiring, bend, open));
  const numbers = crossings.map((at) => wiring.crossing(at));
  const routes = strands.flatMap(({ from, to, points }) => {
    const start = ends[from.bend]?.[from.side];
    const end = ends[to.bend]?.[to.side];
    return start && end ? [{ from: start, to: end, points }] : [];
  });
  layRoutes(wiring, routes, numbers);
  return wiring.finish();
}

/** Takes a bend's strand out and puts its two stubs back, their cut ends open. */
function snip(
  diagram: KnotDiagram,
  wiring: Wiring,
  { cut }: Bend,
  { left, right }: OpenedBend,
): Readonly<Record<Side, WireEnd>> {
  if ("loop" in cut) {
    wiring.takeLoop(cut.loop);
    // A loop's stubs hang together where it was taken up, opposite the bend.
    const foot = { joint: wiring.joint() };
    return { left: putBack(wiring, left, foot), right: putBack(wiring, right, foot) };
  }
  const { half } = cut;
  wiring.takeEdge(half);
  return {
    left: putBack(wiring, left, { half }),
    right: putBack(wiring, right, { half: twin(diagram, half) }),
  };
}

function putBack(wiring: Wiring, { curve }: Stub, foot: WireEnd): WireEnd {
  // A stub that is cut at its very crossing has no curve of its own.
  if (curve.vertices.length < 2) return foot;
  const end = { joint: wiring.joint() };
  wiring.add(curve, foot, end);
  return end;
}
