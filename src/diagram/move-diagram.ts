/** Where a diagram lies, and the same diagram elsewhere. */
import { chainBounds } from "../geometry/arc-chain.ts";
import { type Bounds, boundsOf, mergeBounds } from "../geometry/bounds.ts";
import { moveBy, transformChain } from "../geometry/transform.ts";
import { crossingCount, crossingPoint, type KnotDiagram } from "./knot-diagram.ts";

/** The box round all centrelines. */
export function diagramBounds(diagram: KnotDiagram): Bounds {
  const crossings = Array.from({ length: crossingCount(diagram) }, (_, i) => crossingPoint(diagram, i));
  const boxes = [boundsOf(crossings)];
  for (const curve of diagram.curves.values()) boxes.push(chainBounds(curve));
  for (const loop of diagram.loops) boxes.push(chainBounds(loop));
  return mergeBounds(boxes);
}

export function moveDiagram(diagram: KnotDiagram, x: number, y: number): KnotDiagram {
  const by = moveBy(x, y);
  return {
    ...diagram,
    x: diagram.x.map((own) => own + x),
    y: diagram.y.map((own) => own + y),
    curves: new Map([...diagram.curves].map(([half, curve]) => [half, transformChain(curve, by)])),
    loops: diagram.loops.map((loop) => transformChain(loop, by)),
  };
}
