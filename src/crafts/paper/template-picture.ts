/** A template in little, for the job sheet and the preview. */
import type { CheckResult } from "../../checks/check.ts";
import { type Transform, transformChain, transformPoint } from "../../geometry/transform.ts";
import type { PaperItem } from "../../output/paper.ts";
import type { Picture, PictureItem } from "../../output/picture.ts";
import { checkPlaces, measures } from "../picture-frame.ts";
import type { Template } from "./template.ts";

export function templatePicture(template: Template, checks: readonly CheckResult[]): Picture {
  const { title, description, size, bounds, groups } = template;
  return {
    title,
    description,
    bounds,
    items: [
      ...groups.flatMap(({ items }) => items.flatMap((item) => pictureItems(item, undefined))),
      ...measures(size),
      ...checkPlaces(checks),
    ],
  };
}

/** Lines, areas and words; pictures of pixels are left out. */
function pictureItems(item: PaperItem, by: Transform | undefined): PictureItem[] {
  switch (item.kind) {
    case "line":
      return [
        {
          kind: "line",
          chains: by ? item.chains.map((chain) => transformChain(chain, by)) : item.chains,
          colour: item.colour,
          widthMm: item.widthMm,
          ...(item.dash ? { dashed: true } : {}),
        },
      ];
    case "area":
      return [
        {
          kind: "area",
          chains: by ? item.chains.map((chain) => transformChain(chain, by)) : item.chains,
          fill: item.fill,
          ...(item.edge ? { edge: item.edge } : {}),
        },
      ];
    case "text":
      return [{ kind: "label", at: by ? transformPoint(item.at, by) : item.at, text: item.text }];
    case "group":
      return item.items.flatMap((own) => pictureItems(own, item.transform ?? by));
    case "marked":
      return item.items.flatMap((own) => pictureItems(own, by));
    case "image":
      return [];
  }
}
