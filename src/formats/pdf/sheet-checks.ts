/** The checks of a printed sheet, the worst first, each with what would mend it. */

import { polyline } from "../../geometry/arc-chain.ts";
import type { SheetCheck } from "../../output/job-sheet.ts";
import { VERDICT_WORDS, VERDICTS } from "../job-sheet-html.ts";
import { type Block, stack } from "./page-flow.ts";
import { type GrowingElement, grow, space, verdictMark, wordsBlock } from "./sheet-blocks.ts";
import { LEFT_MM, SMALL, TABLE, TABLE_STRONG, VERDICT_INKS, WIDTH_MM } from "./sheet-look.ts";
import {
  cellPlace,
  type LaidColumn,
  layColumns,
  PLAIN_TABLE,
  rowOf,
  type TableColumn,
  tableHead,
} from "./sheet-table.ts";
import { footBelowTop, type Typesetter } from "./typesetter.ts";

const COLUMNS: readonly TableColumn[] = [
  { title: "What is asked" },
  { title: "Measured", isFigure: true },
  { title: "Limit", isFigure: true },
  { title: "Places and remarks" },
  { title: "Verdict" },
];

const MARK_MM = 2.4;
const MARK_ROOM_MM = 3.6;
const BAR_MM = 0.8;
const MORE_INDENT_MM = 2.8;
const BULLET_MM = 3;

export function checkBlocks(
  type: Typesetter,
  checks: readonly SheetCheck[],
  parent: GrowingElement,
): Block[] {
  if (checks.length === 0) return [];
  const sorted = VERDICTS.flatMap((verdict) => checks.filter((check) => check.verdict === verdict));
  const table = grow("table", parent);
  const rows = sorted.map((check) => [
    check.title,
    check.measured,
    check.limit,
    remarkOf(check),
    // The mark is as wide as about three letters.
    `mmm${VERDICT_WORDS[check.verdict]}`,
  ]);
  const columns = layColumns(type, COLUMNS, rows, { leftMm: LEFT_MM, widthMm: WIDTH_MM });
  const head = tableHead(type, columns);
  return [
    tableHead(type, columns, table),
    ...sorted.map((check): Block => ({ ...stack(checkRows(type, columns, check, table)), head })),
  ];
}

function remarkOf({ verdict, places, note }: SheetCheck): string {
  return [places, verdict === "pass" ? note : ""].filter((part) => part !== "").join(" ");
}

function checkRows(
  type: Typesetter,
  columns: readonly LaidColumn[],
  check: SheetCheck,
  table: GrowingElement,
): Block[] {
  const { title, verdict, measured, limit } = check;
  const row = grow("row", table);
  const ink = VERDICT_INKS[verdict];
  const styles = [
    verdict === "pass" ? TABLE : { ...TABLE_STRONG, colour: verdict === "fail" ? ink : TABLE.colour },
    TABLE,
    TABLE,
    verdict === "pass" ? SMALL : TABLE,
  ];
  const texts = [title, measured, limit, remarkOf(check)];
  const cells = columns
    .slice(0, texts.length)
    .map((column, index) =>
      wordsBlock(
        type,
        texts[index] ?? "",
        styles[index] ?? TABLE,
        cellPlace(column),
        grow(index === 0 ? "row-header" : "cell", row),
      ),
    );
  const last = columns[texts.length];
  const rows = last ? [...cells, verdictCell(type, verdict, last, row)] : cells;
  return [rowOf(columns, rows, PLAIN_TABLE.padMm), ...moreRow(type, check, table)];
}

function verdictCell(
  type: Typesetter,
  verdict: SheetCheck["verdict"],
  { leftMm, widthMm }: LaidColumn,
  row: GrowingElement,
): Block {
  const style = { ...TABLE_STRONG, colour: VERDICT_INKS[verdict] };
  const place = { leftMm: leftMm + MARK_ROOM_MM, widthMm: widthMm - MARK_ROOM_MM };
  const words = wordsBlock(type, VERDICT_WORDS[verdict], style, place, grow("cell", row));
  return {
    heightMm: words.heightMm,
    draw: (topMm) => [
      ...verdictMark(verdict, leftMm, topMm - footBelowTop(style) - 0.3, MARK_MM),
      ...words.draw(topMm),
    ],
  };
}

/** What it means and what would mend it, over the full width, a bar before it: single for a failure, double for a warning. */
function moreRow(type: Typesetter, { verdict, note, remedies }: SheetCheck, table: GrowingElement): Block[] {
  const [only, ...others] = remedies;
  const parts: string[] = [];
  if (verdict !== "pass" && note !== "") parts.push(note);
  if (only !== undefined) parts.push("What would mend it:");
  if (only !== undefined && others.length === 0) parts.push(only);
  if (parts.length === 0) return [];
  const cell = grow("cell", grow("row", table), { columns: COLUMNS.length });
  const leftMm = LEFT_MM + MORE_INDENT_MM;
  const place = { leftMm, widthMm: WIDTH_MM - MORE_INDENT_MM };
  const blocks = [wordsBlock(type, parts.join(" "), TABLE, place, grow("paragraph", cell))];
  if (others.length > 0) blocks.push(...bullets(type, remedies, place, grow("list", cell)));
  const words = stack(blocks);
  const more: Block = {
    heightMm: words.heightMm,
    draw: (topMm) => [bar(verdict, topMm, words.heightMm), ...words.draw(topMm)],
  };
  return [more, space(1.2)];
}

/** Entries of a list, a dot before each. */
function bullets(
  type: Typesetter,
  texts: readonly string[],
  { leftMm, widthMm }: { readonly leftMm: number; readonly widthMm: number },
  list: GrowingElement,
): Block[] {
  return texts.map((text) => bulletBlock(type, text, { leftMm, widthMm }, list));
}

export function bulletBlock(
  type: Typesetter,
  text: string,
  { leftMm, widthMm }: { readonly leftMm: number; readonly widthMm: number },
  list: GrowingElement,
  style = TABLE,
): Block {
  const entry = grow("list-item", list);
  const dot = wordsBlock(
    type,
    "•",
    style,
    { leftMm: leftMm + 0.6, widthMm: BULLET_MM },
    grow("list-label", entry),
  );
  const place = { leftMm: leftMm + BULLET_MM, widthMm: widthMm - BULLET_MM };
  const words = wordsBlock(type, text, style, place, grow("list-body", entry));
  return { heightMm: words.heightMm, draw: (topMm) => [...dot.draw(topMm), ...words.draw(topMm)] };
}

function bar(verdict: SheetCheck["verdict"], topMm: number, heightMm: number) {
  const upright = (x: number) =>
    polyline(
      [
        { x, y: topMm },
        { x, y: topMm - heightMm },
      ],
      false,
    );
  const x = LEFT_MM + BAR_MM / 2;
  const double = verdict === "warning";
  return {
    kind: "line",
    chains: double ? [upright(x - BAR_MM / 3), upright(x + BAR_MM / 3)] : [upright(x)],
    colour: VERDICT_INKS[verdict],
    widthMm: double ? BAR_MM / 3 : BAR_MM,
  } as const;
}
