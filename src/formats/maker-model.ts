/**
 * Drawings as makerjs models, for people who go on with that library: a model for each layer
 * of purpose, in it a model for each chain, in it its lines and arcs, numbered from 0 in path
 * order. Arcs always turn counter-clockwise there, so a clockwise one has its ends exchanged.
 */
import type makerjs from "makerjs";
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { type ArcChain, segmentsOf } from "../geometry/arc-chain.ts";
import { distance, minus, type Point, type Vec } from "../geometry/point.ts";
import { arcOf, type Segment } from "../geometry/segment.ts";
import type { Drawing } from "../output/drawing.ts";
import { gridChain } from "./grid-chain.ts";

type Path = makerjs.IPathLine | makerjs.IPathArc;

/**
 * The drawing as one makerjs model, mm; vertices lie on the output grid.
 *
 * @throws InternalError for a number that is not finite or a path without length.
 */
export function makerModel(drawing: Drawing): makerjs.IModel {
  const models: makerjs.IModelMap = {};
  for (const { name, paths } of drawing.layers) {
    const chains = paths.map((path, index) => [String(index), chainModel(gridChain(path))]);
    models[name] = { layer: name, models: Object.fromEntries(chains) };
  }
  return { units: "mm", models };
}

/** One chain as a makerjs model of lines and arcs. */
export function chainModel(chain: ArcChain): makerjs.IModel {
  return { paths: Object.fromEntries(segmentsOf(chain).map((segment, index) => [index, pathOf(segment)])) };
}

function pathOf(segment: Segment): Path {
  const { from, to, bulge } = segment;
  // So shallow an arc would be one of a circle kilometres wide: a line, to all that can be measured.
  if ((distance(from, to) * Math.abs(bulge)) / 2 < SAME_POINT_MM)
    return { type: "line", origin: [from.x, from.y], end: [to.x, to.y] };
  const { centre, radius } = arcOf(segment);
  const [first, last] = bulge > 0 ? [from, to] : [to, from];
  return {
    type: "arc",
    origin: [centre.x, centre.y],
    radius,
    startAngle: angleDeg(centre, first),
    endAngle: angleDeg(centre, last),
  };
}

function angleDeg(centre: Point, point: Point): number {
  const { x, y }: Vec = minus(point, centre);
  return (Math.atan2(y, x) * 180) / Math.PI;
}
