/** Cross sections of a carved ribbon: how far its surface lies below its ridge, by the distance from the centreline. */
import type { ReliefSettings } from "./settings.ts";

export interface Dome {
  readonly halfWidthMm: number;
  /** How far the edge lies below the ridge. */
  readonly edgeMm: number;
  /** mm below the ridge, at `fromCentreMm` within the half width. */
  readonly drop: (fromCentreMm: number) => number;
}

/**
 * - `round`: an arc of a circle from ridge to edge.
 * - `eased`: flat, its edges rounded over with the dome's height as their radius.
 * - `two-ridged`: two rolls side by side, each half as wide as the ribbon; the valley between them
 *   is as deep as the edges.
 *
 * No arc is more than a quarter circle: a dome higher than its half width is taken to be as high
 * as that (the checks say so).
 */
export function domeOf({ dome, domeHeightMm, ribbon }: ReliefSettings): Dome {
  const halfWidthMm = ribbon.widthMm / 2;
  const rollMm = dome === "two-ridged" ? halfWidthMm / 2 : halfWidthMm;
  const edgeMm = Math.min(domeHeightMm, rollMm);
  return { halfWidthMm, edgeMm, drop: dropOf(dome, halfWidthMm, edgeMm) };
}

function dropOf(dome: ReliefSettings["dome"], halfWidth: number, edge: number): Dome["drop"] {
  if (edge <= 0) return () => 0;
  switch (dome) {
    case "round":
      return arcDrop(halfWidth, edge);
    case "eased": {
      const over = arcDrop(edge, edge);
      return (d) => (d <= halfWidth - edge ? 0 : over(d - (halfWidth - edge)));
    }
    case "two-ridged": {
      const roll = arcDrop(halfWidth / 2, edge);
      return (d) => roll(Math.abs(d - halfWidth / 2));
    }
  }
}

/** A circle's fall from its top, such that it has fallen by `height` at `reach`: r = (reach^2 + height^2) / (2 height). */
function arcDrop(reach: number, height: number): Dome["drop"] {
  const radius = domeRadius(reach, height);
  return (d) => radius - Math.sqrt(Math.max(0, radius * radius - d * d));
}

export function domeRadius(reachMm: number, heightMm: number): number {
  return (reachMm * reachMm + heightMm * heightMm) / (2 * heightMm);
}
