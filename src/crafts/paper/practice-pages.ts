/** Stages, exercises and answers laid on pages for teachers, each drawing in a cell with its words. */
import { boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import { followedBy, moveBy, scaleBy } from "../../geometry/transform.ts";
import type { PaperDocument, PaperElement, PaperItem, PaperPage } from "../../output/paper.ts";
import { BODY_TYPE_MM, INK, SOFT_INK } from "./mark-look.ts";
import type { StageDrawing } from "./practice-sheet.ts";

export interface PageSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Drawings that share pages, so many across and down each. */
export interface PracticePart {
  readonly title: string;
  readonly across: number;
  readonly down: number;
  readonly drawings: readonly StageDrawing[];
  /** Drawn no larger than this many times their own size. */
  readonly mostScale: number;
  /** Whether the titles of its drawings are numbered. */
  readonly isNumbered?: boolean;
}

const MARGIN_MM = 14;
const HEAD_MM = 14;
const TITLE_MM = 5;
const CAPTION_MM = 11;
const BETWEEN_MM = 8;

export function practiceDocument(
  title: string,
  parts: readonly PracticePart[],
  size: PageSize,
): PaperDocument {
  const pages: PaperPage[] = [];
  const structure: PaperElement[] = [];
  for (const part of parts) {
    const each = part.across * part.down;
    for (let first = 0; first < part.drawings.length; first += each) {
      const page = layPage(part, part.drawings.slice(first, first + each), first, size);
      pages.push({ ...size, items: page.items });
      structure.push(...page.structure);
    }
  }
  return { title, language: "en", pages, structure };
}

function layPage(
  { title, across, down, mostScale, isNumbered }: PracticePart,
  drawings: readonly StageDrawing[],
  before: number,
  { widthMm, heightMm }: PageSize,
): { readonly items: PaperItem[]; readonly structure: PaperElement[] } {
  const heading: PaperElement = { role: "heading2", children: [] };
  const items: PaperItem[] = [
    {
      kind: "marked",
      element: heading,
      items: [
        {
          kind: "text",
          text: title,
          at: { x: MARGIN_MM, y: heightMm - MARGIN_MM - TITLE_MM },
          sizeMm: TITLE_MM,
          colour: INK,
          weight: "bold",
          mostMm: widthMm - 2 * MARGIN_MM,
        },
      ],
    },
  ];
  const structure = [heading];
  const cell = {
    width: (widthMm - 2 * MARGIN_MM - (across - 1) * BETWEEN_MM) / across,
    height: (heightMm - 2 * MARGIN_MM - HEAD_MM - (down - 1) * BETWEEN_MM) / down,
  };
  for (const [i, drawing] of drawings.entries()) {
    const left = MARGIN_MM + (i % across) * (cell.width + BETWEEN_MM);
    const top = heightMm - MARGIN_MM - HEAD_MM - Math.floor(i / across) * (cell.height + BETWEEN_MM);
    const caption: PaperElement = { role: "paragraph", children: [] };
    const box = { left, bottom: top - cell.height, ...cell };
    const label = isNumbered ? `${before + i + 1}. ${drawing.title}` : drawing.title;
    items.push(fitted(drawing, box, mostScale), captionOf(drawing, { ...box, label, element: caption }));
    structure.push(caption);
  }
  return { items, structure };
}

interface Box {
  readonly left: number;
  readonly bottom: number;
  readonly width: number;
  readonly height: number;
}

/** As large as the box allows above its caption, in the middle. */
function fitted({ bounds, items }: StageDrawing, box: Box, mostScale: number): PaperItem {
  const height = box.height - CAPTION_MM;
  const scale = Math.min(mostScale, box.width / boundsWidth(bounds), height / boundsHeight(bounds));
  const x = box.left + (box.width - scale * boundsWidth(bounds)) / 2;
  const y = box.bottom + CAPTION_MM + (height - scale * boundsHeight(bounds)) / 2;
  const place = followedBy(followedBy(moveBy(-bounds.minX, -bounds.minY), scaleBy(scale)), moveBy(x, y));
  return { kind: "group", transform: place, items };
}

function captionOf(
  { caption }: StageDrawing,
  { left, bottom, width, label, element }: Box & { readonly label: string; readonly element: PaperElement },
): PaperItem {
  const line = (text: string, up: number, bold: boolean): PaperItem => ({
    kind: "text",
    text,
    at: { x: left, y: bottom + up },
    sizeMm: BODY_TYPE_MM,
    colour: bold ? INK : SOFT_INK,
    weight: bold ? "bold" : "regular",
    mostMm: width,
  });
  return { kind: "marked", element, items: [line(label, 5, true), line(caption, 0.6, false)] };
}
