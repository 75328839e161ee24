/** The top of a printed sheet: title, verdict, the picture and its sizes, further pictures. */
import { boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import { followedBy, moveBy, scaleBy } from "../../geometry/transform.ts";
import type { JobSheet } from "../../output/job-sheet.ts";
import type { PaperItem } from "../../output/paper.ts";
import type { Picture } from "../../output/picture.ts";
import { type Block, beside, stack } from "./page-flow.ts";
import { pictureItems } from "./picture-items.ts";
import {
  boxLine,
  type GrowingElement,
  grow,
  hairline,
  rule,
  space,
  verdictMark,
  wordsBlock,
} from "./sheet-blocks.ts";
import {
  BODY,
  GUTTER_MM,
  HEAVY_MM,
  LEFT_MM,
  RIGHT_MM,
  RULE_MM,
  SMALL,
  STRONG,
  TITLE,
  VERDICT_INKS,
  VERDICT_WORD,
  WIDTH_MM,
} from "./sheet-look.ts";
import type { Typesetter } from "./typesetter.ts";

const VERDICT_SHARE = 0.42;
const FACTS_SHARE = 0.36;
const PLAN_HIGH_MM = 92;
const FIGURE_HIGH_MM = 90;
const PAD_MM = 2.4;
const MARK_MM = 5;

/** Title and craft at the left, the verdict in a box at the right, their feet level. */
export function titleBlock(
  type: Typesetter,
  { title, craft, verdict }: JobSheet,
  root: GrowingElement,
): Block {
  const boxWidth = VERDICT_SHARE * WIDTH_MM;
  const place = { leftMm: LEFT_MM, widthMm: WIDTH_MM - boxWidth - GUTTER_MM };
  const left = stack([
    wordsBlock(type, title, TITLE, { ...place, even: true }, grow("heading1", root)),
    space(0.8),
    wordsBlock(type, craft, { ...BODY, colour: SMALL.colour }, place, grow("paragraph", root)),
  ]);
  const right = verdictBox(type, verdict, RIGHT_MM - boxWidth, root);
  const heightMm = Math.max(left.heightMm, right.heightMm);
  const line = rule(HEAVY_MM);
  return {
    heightMm: heightMm + 2 + HEAVY_MM,
    keeps: true,
    draw: (topMm) => [
      ...left.draw(topMm - (heightMm - left.heightMm)),
      ...right.draw(topMm - (heightMm - right.heightMm)),
      ...line.draw(topMm - heightMm - 2),
    ],
  };
}

function verdictBox(
  type: Typesetter,
  { ready, text }: JobSheet["verdict"],
  leftMm: number,
  root: GrowingElement,
): Block {
  const kind = ready ? "pass" : "fail";
  const colour = VERDICT_INKS[kind];
  const place = {
    leftMm: leftMm + PAD_MM + MARK_MM + 2,
    widthMm: RIGHT_MM - leftMm - 2 * PAD_MM - MARK_MM - 2,
  };
  const words = stack([
    wordsBlock(
      type,
      ready ? "Ready" : "Not ready",
      { ...VERDICT_WORD, colour },
      place,
      grow("paragraph", root),
    ),
    wordsBlock(type, text, BODY, place, grow("paragraph", root)),
  ]);
  const heightMm = words.heightMm + 2 * PAD_MM;
  return {
    heightMm,
    draw: (topMm) => [
      boxLine(
        { minX: leftMm, minY: topMm - heightMm, maxX: RIGHT_MM, maxY: topMm },
        ready ? RULE_MM : 0.8,
        colour,
      ),
      ...verdictMark(kind, leftMm + PAD_MM, topMm - PAD_MM - MARK_MM, MARK_MM),
      ...words.draw(topMm - PAD_MM),
    ],
  };
}

/** The picture at the left, sizes at the right. */
export function planBlock(type: Typesetter, { picture, sizes }: JobSheet, root: GrowingElement): Block {
  const factsWidth = sizes.length > 0 ? FACTS_SHARE * WIDTH_MM : 0;
  const pictureWidth = WIDTH_MM - factsWidth - (sizes.length > 0 ? GUTTER_MM : 0);
  const parts = [pictureBlock(type, picture, { widthMm: pictureWidth, mostHighMm: PLAN_HIGH_MM }, root)];
  if (picture.items.some(({ kind }) => kind === "place")) {
    const words = "Rings: solid, where a check fails; dashed, a place to look at.";
    parts.push(
      space(1),
      wordsBlock(type, words, SMALL, { leftMm: LEFT_MM, widthMm: pictureWidth }, grow("caption", root)),
    );
  }
  const facts = factsBlock(type, sizes, RIGHT_MM - factsWidth, root);
  return { ...beside([stack(parts), facts]), aboveMm: 3 };
}

function factsBlock(type: Typesetter, sizes: JobSheet["sizes"], leftMm: number, root: GrowingElement): Block {
  if (sizes.length === 0) return space(0);
  const list = grow("list", root);
  const widthMm = RIGHT_MM - leftMm;
  return stack(
    sizes.map(({ name, value }): Block => {
      const entry = grow("list-item", list);
      const valueWidth = Math.min(type.width(value, STRONG) + 0.1, 0.6 * widthMm);
      const cells = beside([
        wordsBlock(
          type,
          name,
          BODY,
          { leftMm, widthMm: widthMm - valueWidth - 3 },
          grow("list-label", entry),
        ),
        wordsBlock(
          type,
          value,
          STRONG,
          { leftMm: RIGHT_MM - valueWidth, widthMm: valueWidth, align: "end" },
          grow("list-body", entry),
        ),
      ]);
      const heightMm = cells.heightMm + 1.5;
      return {
        heightMm,
        draw: (topMm) => [...cells.draw(topMm - 0.7), hairline(leftMm, RIGHT_MM, topMm - heightMm)],
      };
    }),
  );
}

/** A further picture and its caption. */
export function figureBlock(
  type: Typesetter,
  { caption, picture }: JobSheet["figures"][number],
  root: GrowingElement,
): Block {
  return {
    ...stack([
      pictureBlock(type, picture, { widthMm: WIDTH_MM, mostHighMm: FIGURE_HIGH_MM }, root),
      space(1),
      wordsBlock(type, caption, SMALL, { leftMm: LEFT_MM, widthMm: WIDTH_MM }, grow("caption", root)),
    ]),
    aboveMm: 4,
  };
}

/** A picture as large as its room lets it be, at the left. */
function pictureBlock(
  type: Typesetter,
  picture: Picture,
  { widthMm, mostHighMm }: { readonly widthMm: number; readonly mostHighMm: number },
  root: GrowingElement,
): Block {
  const { items, room } = pictureItems(picture, type);
  const scale = Math.min(widthMm / boundsWidth(room), mostHighMm / boundsHeight(room));
  const element = grow("figure", root, { alt: `${picture.title}. ${picture.description}` });
  const heightMm = scale * boundsHeight(room);
  return {
    heightMm,
    draw: (topMm): PaperItem[] => {
      const place = followedBy(
        followedBy(moveBy(-room.minX, -room.maxY), scaleBy(scale)),
        moveBy(LEFT_MM, topMm),
      );
      return [{ kind: "marked", element, items: [{ kind: "group", transform: place, items }] }];
    },
  };
}
