/** How lines on templates look: told apart by width and dashes, so that black on white is enough. */
import type { LineLook } from "./template.ts";

const BLACK = "#000000";
const GREY = "#6b6b6b";
const PALE = "#a8a8a8";

export const BOLD: LineLook = { colour: BLACK, widthMm: 0.7, roundEnds: true };
export const FIRM: LineLook = { colour: BLACK, widthMm: 0.35, roundEnds: true };
export const FINE: LineLook = { colour: BLACK, widthMm: 0.2 };
export const FAINT: LineLook = { colour: PALE, widthMm: 0.12 };
/** ISO 128-2: centre lines are long-dashed dotted narrow lines. */
export const CENTRE: LineLook = { colour: GREY, widthMm: 0.13, dashMm: [3, 0.7, 0.3, 0.7] };
export const EDGE: LineLook = { colour: BLACK, widthMm: 0.5 };

/** What is taken away, and what is left to hold the rest. */
export const WASTE_FILL = "#dcdcdc";
export const KEEP_FILL = "#8a8a8a";

export const TEXT_COLOUR = BLACK;
/** Words beside the piece: about 9 points. */
export const WORD_MM = 3.2;
