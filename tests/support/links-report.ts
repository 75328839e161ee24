import type { PlanarDiagramCode } from "../../src/diagram/planar-diagram-code.ts";
import { runReader, withFiles } from "./external.ts";

/** What a topology library says of a link. */
export interface LinkReport {
  readonly crossings: number;
  readonly components: number;
  readonly alternating: boolean;
  /** Coefficients of the Jones polynomial from the lowest power up, so that turning single strands round does not show. */
  readonly jones: readonly number[];
  /** The lowest power of t, strands run as the code numbers them. */
  readonly lowestPower: number;
  readonly determinant: string;
}

/** The tools that {@link reportLinks} needs. */
export const LINK_TOOLS = ["python:regina"];

export function reportLinks(codes: readonly PlanarDiagramCode[]): readonly LinkReport[] {
  return withFiles(
    { "links.json": JSON.stringify(codes) },
    (pathOf) => runReader("links_report.py", [pathOf("links.json")]) as readonly LinkReport[],
  );
}
