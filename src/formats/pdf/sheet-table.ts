/**
 * Tables of a printed sheet: columns as wide as their words want, as far as the page allows; a
 * hairline over every row; the head again on every page.
 */
import type { PaperItem } from "../../output/paper.ts";
import type { Block } from "./page-flow.ts";
import { type GrowingElement, grow, hairline, wordsBlock } from "./sheet-blocks.ts";
import { TABLE, TABLE_HEAD, TABLE_STRONG } from "./sheet-look.ts";
import type { TypeStyle, Typesetter } from "./typesetter.ts";

export interface TableColumn {
  readonly title: string;
  /** Figures stand at the right of their column and are not broken into lines. */
  readonly isFigure?: boolean;
}

export interface TableLook {
  readonly body: TypeStyle;
  /** Of the first cell, which names its row. */
  readonly strong: TypeStyle;
  /** Above and below the words of a row. */
  readonly padMm: number;
}

export const PLAIN_TABLE: TableLook = { body: TABLE, strong: TABLE_STRONG, padMm: 0.75 };

export interface TablePlace {
  readonly leftMm: number;
  readonly widthMm: number;
}

const COLUMN_GAP_MM = 3.5;

export interface LaidColumn extends TableColumn {
  readonly leftMm: number;
  readonly widthMm: number;
}

/** Where the columns stand: every word has room where it can, and the rest goes to those that want more. */
export function layColumns(
  type: Typesetter,
  columns: readonly TableColumn[],
  rows: readonly (readonly string[])[],
  { leftMm, widthMm }: TablePlace,
  look: TableLook = PLAIN_TABLE,
): LaidColumn[] {
  const wants = columns.map(({ title, isFigure = false }, index) => {
    const style = index === 0 ? look.strong : look.body;
    const texts = rows.map((row) => row[index] ?? "");
    const whole = Math.max(type.width(title, TABLE_HEAD), ...texts.map((text) => type.width(text, style)));
    const words = Math.max(
      type.wordWidth(title, TABLE_HEAD),
      ...texts.map((text) => type.wordWidth(text, style)),
    );
    return { most: whole, least: isFigure ? whole : words };
  });
  const room = widthMm - COLUMN_GAP_MM * (columns.length - 1);
  const least = sum(wants.map((want) => want.least));
  // Where not even the words have room, all columns shrink alike and words are broken.
  const shrink = Math.min(1, room / least);
  const level = levelOf(
    wants.map((want) => want.most - want.least),
    Math.max(0, room - least),
  );
  const widths = wants.map((want) => want.least * shrink + Math.min(want.most - want.least, level));
  const spare = Math.max(0, room - sum(widths));
  const growing = wants.map((want, index) => (columns[index]?.isFigure ? 0 : want.most));
  const growers = sum(growing) || 1;
  let left = leftMm;
  return columns.map((column, index) => {
    const own = (widths[index] ?? 0) + (spare * (growing[index] ?? 0)) / growers;
    const laid = { ...column, leftMm: left, widthMm: own };
    left += own + COLUMN_GAP_MM;
    return laid;
  });
}

/** How much more each column may have so that all together have `room`: those that want little get it all. */
function levelOf(wanted: readonly number[], room: number): number {
  let rest = room;
  const rising = [...wanted].sort((a, b) => a - b);
  for (const [index, want] of rising.entries()) {
    const share = rest / (rising.length - index);
    if (want > share) return share;
    rest -= want;
  }
  return Number.POSITIVE_INFINITY;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/** The head of a table; without an element it is furniture, for the pages after the first. */
export function tableHead(type: Typesetter, columns: readonly LaidColumn[], table?: GrowingElement): Block {
  const row = table && grow("row", table);
  const cells = columns.map((column) =>
    wordsBlock(type, column.title, TABLE_HEAD, cellPlace(column), row && grow("column-header", row)),
  );
  const heightMm = Math.max(0, ...cells.map((cell) => cell.heightMm));
  return {
    heightMm: heightMm + 1,
    keeps: true,
    // Titles of one line stand at the foot of the head.
    draw: (topMm) => cells.flatMap((cell) => cell.draw(topMm - 0.6 - (heightMm - cell.heightMm))),
  };
}

/** One row, a hairline above it. */
function tableRow(
  type: Typesetter,
  columns: readonly LaidColumn[],
  texts: readonly string[],
  table: GrowingElement,
  look: TableLook = PLAIN_TABLE,
): Block {
  const row = grow("row", table);
  const cells = columns.map((column, index) =>
    wordsBlock(
      type,
      texts[index] ?? "",
      index === 0 ? look.strong : look.body,
      cellPlace(column),
      grow(index === 0 ? "row-header" : "cell", row),
    ),
  );
  return rowOf(columns, cells, look.padMm);
}

/** Cells beside each other below a hairline. */
export function rowOf(columns: readonly LaidColumn[], cells: readonly Block[], padMm: number): Block {
  const heightMm = Math.max(0, ...cells.map((cell) => cell.heightMm)) + 2 * padMm;
  return {
    heightMm,
    draw: (topMm): PaperItem[] => [
      ...rowLine(columns, topMm),
      ...cells.flatMap((cell) => cell.draw(topMm - padMm)),
    ],
  };
}

function rowLine(columns: readonly LaidColumn[], y: number): PaperItem[] {
  const [first] = columns;
  const last = columns.at(-1);
  return first && last ? [hairline(first.leftMm, last.leftMm + last.widthMm, y)] : [];
}

export function cellPlace({ leftMm, widthMm, isFigure = false }: LaidColumn) {
  return { leftMm, widthMm, align: isFigure ? "end" : "start" } as const;
}

/** A whole table, its rows one block each. */
export function tableBlocks(
  type: Typesetter,
  columns: readonly TableColumn[],
  rows: readonly (readonly string[])[],
  {
    parent,
    place,
    look = PLAIN_TABLE,
  }: { readonly parent: GrowingElement; readonly place: TablePlace; readonly look?: TableLook },
): Block[] {
  const table = grow("table", parent);
  const laid = layColumns(type, columns, rows, place, look);
  const head = tableHead(type, laid);
  return [
    tableHead(type, laid, table),
    ...rows.map((row) => ({ ...tableRow(type, laid, row, table, look), head })),
  ];
}
