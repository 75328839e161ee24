/**
 * Blocks one below the other on pages of one size. A block is never parted; one that is kept with
 * the next goes to a new page with it; a table's head stands again on each page that it runs on to.
 */
import type { PaperItem, PaperPage } from "../../output/paper.ts";

export interface Block {
  readonly heightMm: number;
  /** White above it, but not at the top of a page. */
  readonly aboveMm?: number;
  /** Not to be parted from the block below. */
  readonly keeps?: boolean;
  /** What stands again above it where it begins a page. */
  readonly head?: Block;
  /** Drawn with its upper edge at this height of the page. */
  draw(topMm: number): readonly PaperItem[];
}

export interface FlowPage {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly topMm: number;
  readonly bottomMm: number;
}

/** The pages; `foot` draws what stands at the foot of page `page` of `of`, both from 1. */
export function flowPages(
  blocks: readonly Block[],
  page: FlowPage,
  foot: (page: number, of: number) => readonly PaperItem[],
): PaperPage[] {
  const pages: PaperItem[][] = [];
  const { topMm, bottomMm } = page;
  let items: PaperItem[] | undefined;
  let y = topMm;
  for (let i = 0; i < blocks.length; ) {
    const group = keptTogether(blocks, i);
    const needs = heightOf(group);
    if (!items || (y < topMm && y - needs - (group[0]?.aboveMm ?? 0) < bottomMm)) {
      items = [];
      pages.push(items);
      y = topMm;
      const head = group[0]?.head;
      if (head && pages.length > 1) {
        items.push(...head.draw(y));
        y -= head.heightMm;
      }
    }
    for (const block of group) {
      if (y < topMm) y -= block.aboveMm ?? 0;
      items.push(...block.draw(y));
      y -= block.heightMm;
    }
    i += group.length;
  }
  return pages.map((drawn, index) => ({
    widthMm: page.widthMm,
    heightMm: page.heightMm,
    items: [...drawn, ...foot(index + 1, pages.length)],
  }));
}

/** From a block to the first that is not kept with the one below it. */
function keptTogether(blocks: readonly Block[], from: number): readonly Block[] {
  let to = from;
  while (blocks[to]?.keeps && to + 1 < blocks.length) to++;
  return blocks.slice(from, to + 1);
}

/** The white above the first is left out: a page's top has none. */
function heightOf(group: readonly Block[]): number {
  return group.reduce(
    (sum, { heightMm, aboveMm = 0 }, index) => sum + heightMm + (index > 0 ? aboveMm : 0),
    0,
  );
}

/** Blocks drawn as one, below each other. */
export function stack(blocks: readonly Block[]): Block {
  return {
    heightMm: heightOf(blocks),
    ...(blocks[0]?.aboveMm === undefined ? {} : { aboveMm: blocks[0].aboveMm }),
    draw: (topMm) => {
      let y = topMm;
      return blocks.flatMap((block, index) => {
        if (index > 0) y -= block.aboveMm ?? 0;
        const items = block.draw(y);
        y -= block.heightMm;
        return items;
      });
    },
  };
}

/** Blocks drawn beside each other, their tops level. */
export function beside(blocks: readonly Block[]): Block {
  return {
    heightMm: Math.max(0, ...blocks.map(({ heightMm }) => heightMm)),
    draw: (topMm) => blocks.flatMap((block) => block.draw(topMm)),
  };
}

/**
 * Entries of a list in two columns, the left one filled first and no lower than it must be.
 * `make` gives the entry's block for the column at that left edge.
 */
export function twoColumns(
  count: number,
  lefts: readonly [number, number],
  make: (index: number, leftMm: number) => Block,
): Block {
  const entries = Array.from({ length: count }, (_, index) => make(index, lefts[0]));
  const total = heightOf(entries);
  let split = 0;
  let high = 0;
  while (split < count && high < total / 2) {
    high += entries[split]?.heightMm ?? 0;
    split++;
  }
  const right = Array.from({ length: count - split }, (_, index) => make(split + index, lefts[1]));
  return beside([stack(entries.slice(0, split)), stack(right)]);
}
