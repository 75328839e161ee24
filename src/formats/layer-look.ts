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
  RIBBON: { colourIndex: 8, colour: "#808080" },
  MARK: { colourIndex: 5, colour: "#0000ff" },
  POCKET: { colourIndex: 1, colour: "#d00000" },
  INLAY: { colourIndex: 3, colour: "#008000" },
  GROOVE: { colourIndex: 6, colour: "#c000c0" },
  GROUND: { colourIndex: 30, colour: "#d06000" },
  KEEP: { colourIndex: 4, colour: "#008b8b" },
  PANEL: { colourIndex: 7, colour: "#000000" },
};
