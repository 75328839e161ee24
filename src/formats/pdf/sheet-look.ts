/**
 * How a printed job sheet looks: the language of the HTML sheet (job-sheet-style.ts), hairlines
 * and letters like a workshop drawing. Nothing depends on colour: every mark has its own shape.
 */
import type { SheetCheck } from "../../output/job-sheet.ts";
import { sheetNamed } from "../../output/paper-size.ts";
import type { FlowPage } from "./page-flow.ts";
import { typeStyle } from "./typesetter.ts";

export const INK = "#1b1b1b";
const SOFT_INK = "#595959";
export const HAIRLINE_INK = "#bbb";
export const VERDICT_INKS: Readonly<Record<SheetCheck["verdict"], string>> = {
  fail: "#8a2b14",
  warning: "#6b4700",
  pass: "#1f4d36",
};

export const HAIRLINE_MM = 0.2;
export const RULE_MM = 0.35;
export const HEAVY_MM = 0.7;

export const BODY = typeStyle(8.3, INK);
export const STRONG = typeStyle(8.3, INK, "bold");
export const TABLE = typeStyle(7.8, INK);
export const TABLE_STRONG = typeStyle(7.8, INK, "bold");
export const TABLE_HEAD = typeStyle(6.9, SOFT_INK);
export const SMALL = typeStyle(7.2, SOFT_INK);
export const NUMBERS = typeStyle(6.6, INK, "regular", 1.28);
export const NUMBERS_STRONG = typeStyle(6.6, INK, "bold", 1.28);
export const TITLE = typeStyle(15.5, INK, "bold", 1.16);
export const HEADING = typeStyle(8.6, INK, "bold", 1.3);
export const CAUTION_HEADING = typeStyle(9.4, INK, "bold", 1.3);
export const VERDICT_WORD = typeStyle(9.4, INK, "bold", 1.3);
export const FOOT = typeStyle(6.6, SOFT_INK);

const A4 = sheetNamed("A4") ?? { widthMm: 210, heightMm: 297 };
const SIDE_MM = 12;
const TOP_MM = 11;
/** The foot of the page stands below. */
const BOTTOM_MM = 15;
export const FOOT_MM = 8;

export const SHEET_PAGE: FlowPage = {
  widthMm: A4.widthMm,
  heightMm: A4.heightMm,
  topMm: A4.heightMm - TOP_MM,
  bottomMm: BOTTOM_MM,
};

/** Left and right edge of what is printed. */
export const LEFT_MM = SIDE_MM;
export const RIGHT_MM = A4.widthMm - SIDE_MM;
export const WIDTH_MM = RIGHT_MM - LEFT_MM;
/** Between two columns. */
export const GUTTER_MM = 7;
export const HALF_MM = (WIDTH_MM - GUTTER_MM) / 2;
/** Left edges of two columns. */
export const HALVES: readonly [number, number] = [LEFT_MM, LEFT_MM + HALF_MM + GUTTER_MM];
export const SECTION_GAP_MM = 4.2;
