/** Lists of a printed sheet: the order of work with boxes to tick, files, cautions. */
import { boundsOf } from "../../geometry/bounds.ts";
import type { JobSheet } from "../../output/job-sheet.ts";
import { type Block, stack, twoColumns } from "./page-flow.ts";
import { boxLine, type GrowingElement, grow, hairline, space, wordsBlock } from "./sheet-blocks.ts";
import { bulletBlock } from "./sheet-checks.ts";
import {
  BODY,
  CAUTION_HEADING,
  GUTTER_MM,
  HALF_MM,
  HALVES,
  HEAVY_MM,
  INK,
  LEFT_MM,
  RIGHT_MM,
  SECTION_GAP_MM,
  SHEET_PAGE,
  STRONG,
  TABLE,
  TABLE_STRONG,
  WIDTH_MM,
} from "./sheet-look.ts";
import { footBelowTop, type Typesetter } from "./typesetter.ts";

const TICK_BOX_MM = 2.9;
const NUMBER_MM = 6.4;
const ENTRY_GAP_MM = 1.4;
const CAUTION_PAD_MM = 3.5;
const PAGE_HIGH_MM = SHEET_PAGE.topMm - SHEET_PAGE.bottomMm;

/** A list in two columns where it fits a page, else in one that runs on. */
function list(count: number, make: (index: number, leftMm: number, widthMm: number) => Block): Block[] {
  const halves = twoColumns(count, HALVES, (index, leftMm) => make(index, leftMm, HALF_MM));
  if (halves.heightMm <= PAGE_HIGH_MM / 2) return [halves];
  return Array.from({ length: count }, (_, index) => make(index, LEFT_MM, WIDTH_MM));
}

/** Makes each entry's element once, though its block may be made for either column. */
function entries(count: number, parent: GrowingElement): readonly GrowingElement[] {
  const own = grow("list", parent);
  return Array.from({ length: count }, () => grow("list-item", own));
}

/** Steps with boxes that can be ticked with a pencil. */
export function stepBlocks(type: Typesetter, steps: readonly string[], parent: GrowingElement): Block[] {
  if (steps.length === 0) return [];
  const made = entries(steps.length, parent).map((entry) => ({
    label: grow("list-label", entry),
    body: grow("list-body", entry),
  }));
  return list(steps.length, (index, leftMm, widthMm) => {
    const numberLeft = leftMm + TICK_BOX_MM + 0.8;
    const number = wordsBlock(
      type,
      `${index + 1}.`,
      STRONG,
      { leftMm: numberLeft, widthMm: NUMBER_MM - 1.4, align: "end" },
      made[index]?.label,
    );
    const place = { leftMm: numberLeft + NUMBER_MM, widthMm: widthMm - TICK_BOX_MM - 0.8 - NUMBER_MM };
    const words = wordsBlock(type, steps[index] ?? "", BODY, place, made[index]?.body);
    return {
      heightMm: words.heightMm + ENTRY_GAP_MM,
      draw: (topMm) => {
        const top = topMm - ENTRY_GAP_MM / 2;
        const foot = top - footBelowTop(BODY) - 0.35;
        const box = boundsOf([
          { x: leftMm, y: foot },
          { x: leftMm + TICK_BOX_MM, y: foot + TICK_BOX_MM },
        ]);
        return [boxLine(box, 0.3, INK), ...number.draw(top), ...words.draw(top)];
      },
    };
  });
}

/** File names and what they are for. */
export function fileBlocks(type: Typesetter, files: JobSheet["files"], parent: GrowingElement): Block[] {
  if (files.length === 0) return [];
  const widest = Math.max(...files.map(({ name }) => type.width(name, TABLE_STRONG)));
  const nameWidth = Math.min(widest + 0.1, 0.45 * HALF_MM);
  const made = entries(files.length, parent).map((entry) => ({
    label: grow("list-label", entry),
    body: grow("list-body", entry),
  }));
  return list(files.length, (index, leftMm, widthMm) => {
    const { name = "", purpose = "" } = files[index] ?? {};
    const label = wordsBlock(type, name, TABLE_STRONG, { leftMm, widthMm: nameWidth }, made[index]?.label);
    const place = { leftMm: leftMm + nameWidth + 3, widthMm: widthMm - nameWidth - 3 };
    const words = wordsBlock(type, purpose, TABLE, place, made[index]?.body);
    return {
      heightMm: Math.max(label.heightMm, words.heightMm) + 0.8,
      draw: (topMm) => [...label.draw(topMm - 0.4), ...words.draw(topMm - 0.4)],
    };
  });
}

/** Cautions in a heavy box, the standing line at its foot; where a page cannot hold the box, without it. */
export function cautionBlocks(
  type: Typesetter,
  { cautions, standingLine }: JobSheet,
  section: GrowingElement,
): Block[] {
  const place = { leftMm: LEFT_MM + CAUTION_PAD_MM, widthMm: WIDTH_MM - 2 * CAUTION_PAD_MM };
  const heading: Block = {
    ...wordsBlock(type, "Cautions", CAUTION_HEADING, place, grow("heading2", section)),
    keeps: true,
    aboveMm: SECTION_GAP_MM,
  };
  const own = cautions.length > 0 ? grow("list", section) : undefined;
  const standing = wordsBlock(type, standingLine, TABLE, place, grow("paragraph", section));
  const half = (place.widthMm - GUTTER_MM) / 2;
  const lefts = [place.leftMm, place.leftMm + half + GUTTER_MM] as const;
  const bullet = (index: number, to: GrowingElement, leftMm: number, widthMm: number): Block => {
    const block = bulletBlock(type, cautions[index] ?? "", { leftMm, widthMm }, to);
    return { ...block, heightMm: block.heightMm + 0.6 };
  };
  // Measured with elements of its own, drawn with those of the sheet.
  const measured = grow("list");
  const split = splitOf(cautions.length, (index) => bullet(index, measured, lefts[0], half).heightMm);
  const columns = own
    ? [lefts[0], lefts[1]].map((leftMm, side) =>
        stack(
          Array.from({ length: side === 0 ? split : cautions.length - split }, (_, i) =>
            bullet(side === 0 ? i : split + i, own, leftMm, half),
          ),
        ),
      )
    : [];
  const listHigh = Math.max(0, ...columns.map(({ heightMm }) => heightMm));
  const heightMm = 2 + heading.heightMm + 0.6 + listHigh + 2.2 + standing.heightMm + 2.2;
  const boxed: Block = {
    heightMm,
    aboveMm: SECTION_GAP_MM,
    draw: (topMm) => {
      const listTop = topMm - 2 - heading.heightMm - 0.6;
      const line = listTop - listHigh - 1.1;
      return [
        boxLine({ minX: LEFT_MM, minY: topMm - heightMm, maxX: RIGHT_MM, maxY: topMm }, HEAVY_MM, INK),
        ...heading.draw(topMm - 2),
        ...columns.flatMap((column) => column.draw(listTop)),
        hairline(place.leftMm, place.leftMm + place.widthMm, line),
        ...standing.draw(line - 1.1),
      ];
    },
  };
  if (heightMm <= PAGE_HIGH_MM) return [boxed];
  own?.children.splice(0);
  const single = own ? cautions.map((_, index) => bullet(index, own, place.leftMm, place.widthMm)) : [];
  return [heading, ...single, space(1), standing];
}

/** How many entries go into the first of two columns. */
function splitOf(count: number, heightOf: (index: number) => number): number {
  const heights = Array.from({ length: count }, (_, index) => heightOf(index));
  const total = heights.reduce((sum, height) => sum + height, 0);
  let split = 0;
  for (let high = 0; split < count && high < total / 2; split++) high += heights[split] ?? 0;
  return split;
}
