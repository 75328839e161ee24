/** Blocks of a printed sheet: words, headings, rules, boxes, and the marks of checks. */
import { polyline } from "../../geometry/arc-chain.ts";
import { type Bounds, growBounds } from "../../geometry/bounds.ts";
import { rectangleChain } from "../../geometry/plain-shapes.ts";
import type { SheetCheck } from "../../output/job-sheet.ts";
import type { PaperElement, PaperItem, PaperRole } from "../../output/paper.ts";
import type { Block } from "./page-flow.ts";
import {
  HAIRLINE_INK,
  HAIRLINE_MM,
  HEADING,
  INK,
  LEFT_MM,
  RIGHT_MM,
  RULE_MM,
  SECTION_GAP_MM,
  VERDICT_INKS,
} from "./sheet-look.ts";
import { footBelowTop, type TypeStyle, type Typesetter } from "./typesetter.ts";

/** An element that is still being filled. */
export interface GrowingElement extends PaperElement {
  readonly children: PaperElement[];
}

/** A new element; the last of its parent's children where it has one. */
export function grow(
  role: PaperRole,
  parent?: GrowingElement,
  more: Pick<PaperElement, "alt" | "columns"> = {},
): GrowingElement {
  const element: GrowingElement = { role, children: [], ...more };
  parent?.children.push(element);
  return element;
}

export interface WordsPlace {
  readonly leftMm: number;
  readonly widthMm: number;
  readonly align?: "start" | "end";
  /** Lines of about one length, for titles. */
  readonly even?: boolean;
}

/** Words set in lines; `element` undefined for furniture. */
export function wordsBlock(
  type: Typesetter,
  text: string,
  style: TypeStyle,
  { leftMm, widthMm, align = "start", even = false }: WordsPlace,
  element?: PaperElement,
): Block {
  const lines = even ? type.balancedLines(text, style, widthMm) : type.lines(text, style, widthMm);
  const x = align === "start" ? leftMm : leftMm + widthMm;
  return {
    heightMm: lines.length * style.lineMm,
    draw: (topMm) => {
      const items = lines.map(
        (line, index): PaperItem => ({
          kind: "text",
          // A blank at the end of a line keeps its last word from the next one's first, for whoever reads on.
          text: align === "start" && index < lines.length - 1 ? `${line} ` : line,
          at: { x, y: topMm - index * style.lineMm - footBelowTop(style) },
          sizeMm: style.sizeMm,
          colour: style.colour,
          weight: style.weight ?? "regular",
          anchor: align,
        }),
      );
      return items.length === 0
        ? []
        : [element ? { kind: "marked", element, items } : { kind: "group", items }];
    },
  };
}

/** White of a height. */
export function space(heightMm: number): Block {
  return { heightMm, draw: () => [] };
}

/** A level line; as high as it is wide. */
export function rule(
  widthMm: number,
  colour = INK,
  [left, right]: readonly [number, number] = [LEFT_MM, RIGHT_MM],
): Block {
  return {
    heightMm: widthMm,
    draw: (topMm) => [levelLine(left, right, topMm - widthMm / 2, widthMm, colour)],
  };
}

export function hairline(left: number, right: number, y: number): PaperItem {
  return levelLine(left, right, y, HAIRLINE_MM, HAIRLINE_INK);
}

function levelLine(left: number, right: number, y: number, widthMm: number, colour: string): PaperItem {
  const chain = polyline(
    [
      { x: left, y },
      { x: right, y },
    ],
    false,
  );
  return { kind: "line", chains: [chain], colour, widthMm };
}

/** A box drawn with lines of a width, within its outline. */
export function boxLine(outline: Bounds, widthMm: number, colour: string): PaperItem {
  return { kind: "line", chains: [rectangleChain(growBounds(outline, -widthMm / 2))], colour, widthMm };
}

/** A heading of a section over a line, kept with what follows. */
export function headingBlock(type: Typesetter, text: string, section: GrowingElement): Block {
  const words = wordsBlock(
    type,
    text,
    HEADING,
    { leftMm: LEFT_MM, widthMm: RIGHT_MM - LEFT_MM },
    grow("heading2", section),
  );
  const line = rule(RULE_MM);
  return {
    heightMm: words.heightMm + 0.6 + RULE_MM,
    aboveMm: SECTION_GAP_MM,
    keeps: true,
    draw: (topMm) => [...words.draw(topMm), ...line.draw(topMm - words.heightMm - 0.6)],
  };
}

/** Told apart by shape: a cross in a full square, an open triangle, a tick. `sizeMm` square, from its lower left corner. */
export function verdictMark(
  verdict: SheetCheck["verdict"],
  x: number,
  y: number,
  sizeMm: number,
): PaperItem[] {
  const colour = VERDICT_INKS[verdict];
  const step = sizeMm / 20;
  const chain = (closed: boolean, ...points: readonly (readonly [number, number])[]) =>
    polyline(
      points.map(([right, down]) => ({ x: x + right * step, y: y + (20 - down) * step })),
      closed,
    );
  switch (verdict) {
    case "fail":
      return [
        { kind: "area", chains: [chain(true, [0, 0], [20, 0], [20, 20], [0, 20])], fill: colour },
        {
          kind: "line",
          chains: [chain(false, [5, 5], [15, 15]), chain(false, [15, 5], [5, 15])],
          colour: "#fff",
          widthMm: 2.6 * step,
        },
      ];
    case "warning":
      return [
        {
          kind: "line",
          chains: [
            chain(true, [10, 2], [19, 18], [1, 18]),
            chain(false, [10, 7], [10, 12.6]),
            chain(false, [10, 14], [10, 16]),
          ],
          colour,
          widthMm: 2 * step,
        },
      ];
    case "pass":
      return [
        { kind: "line", chains: [chain(false, [2, 11], [8, 17], [18, 4])], colour, widthMm: 2.6 * step },
      ];
  }
}
