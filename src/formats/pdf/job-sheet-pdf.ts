/**
 * The job sheet as a PDF on A4, in the order and the look of the HTML sheet (job-sheet-html.ts):
 * what goes wrong comes first, what passed comes last; real text, tagged for voices.
 */
import type { JobSheet, SheetTable } from "../../output/job-sheet.ts";
import type { PaperDocument, PaperItem } from "../../output/paper.ts";
import { LONG_LIST } from "../job-sheet-html.ts";
import type { PaperFonts } from "./faces.ts";
import { type Block, beside, flowPages, stack } from "./page-flow.ts";
import { type GrowingElement, grow, headingBlock, wordsBlock } from "./sheet-blocks.ts";
import { checkBlocks } from "./sheet-checks.ts";
import { cautionBlocks, fileBlocks, stepBlocks } from "./sheet-lists.ts";
import {
  FOOT,
  FOOT_MM,
  HALF_MM,
  HALVES,
  LEFT_MM,
  NUMBERS,
  NUMBERS_STRONG,
  RIGHT_MM,
  SHEET_PAGE,
  WIDTH_MM,
} from "./sheet-look.ts";
import { type TableLook, tableBlocks } from "./sheet-table.ts";
import { figureBlock, planBlock, titleBlock } from "./sheet-top.ts";
import { Typesetter } from "./typesetter.ts";
import { writePdf } from "./write-pdf.ts";

const LANGUAGE = "en";
const NUMBERS_TABLE: TableLook = { body: NUMBERS, strong: NUMBERS_STRONG, padMm: 0.4 };
const FULL_WIDTH = { leftMm: LEFT_MM, widthMm: WIDTH_MM };
const PAGE_NUMBER_MM = 30;

/**
 * The whole file.
 *
 * @throws InternalError when a picture holds a number that is not finite.
 */
export function writeJobSheetPdf(sheet: JobSheet, fonts: PaperFonts): Uint8Array {
  return writePdf(layJobSheet(sheet, new Typesetter(fonts)), fonts);
}

/** The sheet on its pages. */
function layJobSheet(sheet: JobSheet, type: Typesetter): PaperDocument {
  const root = grow("section");
  const section = (title: string, make: (element: GrowingElement) => Block[]): Block[] => {
    const element = grow("section");
    const heading = headingBlock(type, title, element);
    const blocks = make(element);
    if (blocks.length === 0) return [];
    root.children.push(element);
    return [heading, ...blocks];
  };
  const blocks = [
    titleBlock(type, sheet, root),
    planBlock(type, sheet, root),
    ...sheet.figures.map((figure) => figureBlock(type, figure, root)),
    ...section("Materials", (element) => materials(type, sheet, element)),
    ...sheet.tables.flatMap((table) => section(table.title, (element) => ownTable(type, table, element))),
    ...section("Order of work", (element) => stepBlocks(type, sheet.steps, element)),
    ...section("Files", (element) => fileBlocks(type, sheet.files, element)),
    ...section("Checks", (element) => checkBlocks(type, sheet.checks, element)),
    ...cautionBlocks(type, sheet, grow("section", root)),
    ...section("Numbers used", (element) => numbers(type, sheet, element)),
  ];
  const foot = grow("paragraph", root);
  const pages = flowPages(blocks, SHEET_PAGE, (page, of) => [
    ...footWords(type, sheet, page === 1 ? foot : undefined),
    ...pageNumber(type, page, of),
  ]);
  return { title: sheet.title, language: LANGUAGE, pages, structure: root.children };
}

function materials(type: Typesetter, { materials }: JobSheet, parent: GrowingElement): Block[] {
  if (materials.length === 0) return [];
  const columns = [
    { title: "For" },
    { title: "Material" },
    { title: "Amount", isFigure: true },
    { title: "Remark" },
  ];
  const rows = materials.map(({ part, material, amount, note }) => [part, material, amount, note]);
  return tableBlocks(type, columns, rows, { parent, place: FULL_WIDTH });
}

/** A long table goes on in a second column of the page, where the two fit it. */
function ownTable(type: Typesetter, { columns, rows }: SheetTable, parent: GrowingElement): Block[] {
  if (rows.length === 0) return [];
  if (rows.length >= LONG_LIST) {
    const half = Math.ceil(rows.length / 2);
    const holder = grow("section");
    const halves = [rows.slice(0, half), rows.slice(half)].map((own, side) =>
      stack(
        tableBlocks(type, columns, own, {
          parent: holder,
          place: { leftMm: HALVES[side === 0 ? 0 : 1], widthMm: HALF_MM },
        }),
      ),
    );
    const block = beside(halves);
    if (block.heightMm <= (SHEET_PAGE.topMm - SHEET_PAGE.bottomMm) / 2) {
      parent.children.push(...holder.children);
      return [block];
    }
  }
  return tableBlocks(type, columns, rows, { parent, place: FULL_WIDTH });
}

function numbers(type: Typesetter, { numbers }: JobSheet, parent: GrowingElement): Block[] {
  if (numbers.length === 0) return [];
  const columns = [
    { title: "Number" },
    { title: "Value", isFigure: true },
    { title: "Meaning" },
    { title: "Source" },
  ];
  const rows = numbers.map(({ name, value, meaning, source }) => [name, value, meaning, source]);
  return tableBlocks(type, columns, rows, { parent, place: FULL_WIDTH, look: NUMBERS_TABLE });
}

function footWords(
  type: Typesetter,
  { footer }: JobSheet,
  element: GrowingElement | undefined,
): readonly PaperItem[] {
  const place = { leftMm: LEFT_MM, widthMm: WIDTH_MM - PAGE_NUMBER_MM };
  return wordsBlock(type, footer, FOOT, place, element).draw(FOOT_MM + FOOT.lineMm);
}

function pageNumber(type: Typesetter, page: number, of: number): readonly PaperItem[] {
  const place = { leftMm: RIGHT_MM - PAGE_NUMBER_MM, widthMm: PAGE_NUMBER_MM, align: "end" } as const;
  return wordsBlock(type, `Page ${page} of ${of}`, FOOT, place).draw(FOOT_MM + FOOT.lineMm);
}
