/**
 * How a layer of purpose looks on screen and paper. The colours carry no meaning for the
 * machine, they only tell the layers apart: an index of the DXF colour table, and a shade
 * of the same hue that is dark enough for white paper.
 */
import type { LayerName } from "../output/drawing.ts";

export interface LayerLook {
  /** DXF group code 62. */
  readonly colourIndex: number;
  /** CSS colour. */
  readonly colour: string;
}

export const LAYER_LOOKS: Readonly<Record<LayerName, LayerLook>> = {
  RIBBON: { colourIndex: 9, colour: "#8a8a8a" },
  MARK: { colourIndex: 40, colour: "#8a6500" },
  POCKET: { colourIndex: 220, colour: "#a3007a" },
  INLAY: { colourIndex: 130, colour: "#007a7a" },
  GROOVE: { colourIndex: 190, colour: "#5a00b3" },
  GROUND: { colourIndex: 20, colour: "#a83200" },
  KEEP: { colourIndex: 70, colour: "#3d7a00" },
  PANEL: { colourIndex: 7, colour: "#222222" },
};
