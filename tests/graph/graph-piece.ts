/** A plane graph all the way to a woven diagram. */
import { type Faces, findFaces } from "../../src/diagram/faces.ts";
import type { KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { findStrands, type Strands } from "../../src/diagram/strands.ts";
import { weave } from "../../src/diagram/weave.ts";
import { graphDiagram } from "../../src/graph/graph-diagram.ts";
import type { PlaneGraph } from "../../src/graph/plane-graph.ts";
import { STEP } from "./sample-graphs.ts";

export interface WovenGraph {
  readonly diagram: KnotDiagram;
  readonly faces: Faces;
  readonly strands: Strands;
}

export function wovenGraph(graph: PlaneGraph, corner: "pointed" | "round" = "round"): WovenGraph {
  const drawn = graphDiagram(graph, { corner, pitchMm: STEP });
  if (!drawn.ok) throw new Error(`no plane graph: ${JSON.stringify(drawn.faults)}`);
  const faces = findFaces(drawn.value);
  const diagram = weave(drawn.value, faces, "Z");
  return { diagram, faces, strands: findStrands(diagram) };
}
