/** What stands at the foot of every sheet: its label, the piece, how to print and join, a ruler. */
import type { Bounds } from "../../geometry/bounds.ts";
import type { PaperElement, PaperItem } from "../../output/paper.ts";
import { RULER_HIGH_MM, ruler } from "./check-marks.ts";
import { BODY_TYPE_MM, INK, SOFT_INK } from "./mark-look.ts";

const LABEL_TYPE_MM = 13;
const LINE_MM = 4.2;

export interface FootWords {
  /** Large, at the left; none on the page with the map. */
  readonly label?: { readonly text: string; readonly element: PaperElement };
  /** The first is bold. */
  readonly lines: readonly { readonly text: string; readonly element: PaperElement }[];
}

/** The foot of the printable box of a page. */
export function pageFoot(printable: Bounds, { label, lines }: FootWords): PaperItem[] {
  const bottom = printable.minY + RULER_HIGH_MM + 1.6;
  const indent = label ? 4 + label.text.length * LABEL_TYPE_MM * 0.64 : 0;
  const left = printable.minX + indent;
  const items: PaperItem[] = [];
  if (label)
    items.push({
      kind: "marked",
      element: label.element,
      items: [
        {
          kind: "text",
          text: label.text,
          at: { x: printable.minX, y: bottom },
          sizeMm: LABEL_TYPE_MM,
          colour: INK,
          weight: "bold",
        },
      ],
    });
  for (const [index, { text, element }] of lines.entries())
    items.push({
      kind: "marked",
      element,
      items: [
        {
          kind: "text",
          text,
          at: { x: left, y: bottom + (lines.length - 1 - index) * LINE_MM },
          sizeMm: BODY_TYPE_MM,
          colour: index === 0 ? INK : SOFT_INK,
          weight: index === 0 ? "bold" : "regular",
          mostMm: printable.maxX - left,
        },
      ],
    });
  return [...items, ...ruler(printable)];
}
