/** The proof finds what was put wrong on purpose. */
import { expect, test } from "vitest";
import { type HiddenProof, provedHidden } from "../../../src/crafts/stitch/hidden-proof.ts";
import { ROLES, type StitchRole, type ThreadBlock } from "../../../src/output/stitches.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { sewnPanel } from "./sewn-panel.ts";

const SEWN = sewnPanel(plainPanel(3, 2));
const TWO_TONES = sewnPanel(plainPanel(2, 2), { changes: { colours: "two" } });

function prove(blocks: readonly ThreadBlock[], { columns } = SEWN): HiddenProof {
  return provedHidden(blocks, columns);
}

/** The same block with the stitches that are picked moved. */
function moved(
  block: ThreadBlock,
  isPicked: (role: StitchRole, i: number) => boolean,
  byMm: number,
): ThreadBlock {
  const x = block.x.map((at, i) => (isPicked(ROLES[block.role[i] ?? 0] ?? "tie", i) ? at + byMm : at));
  return { ...block, x };
}

/** The same block without some of its points. */
function kept(block: ThreadBlock, isKept: (role: StitchRole, i: number) => boolean): ThreadBlock {
  const pick = (_: number, i: number) => isKept(ROLES[block.role[i] ?? 0] ?? "tie", i);
  return {
    ...block,
    x: block.x.filter(pick),
    y: block.y.filter(pick),
    kind: block.kind.filter(pick),
    role: block.role.filter(pick),
  };
}

test("all is well before", () => {
  expect(prove(SEWN.blocks)).toMatchObject({ shown: [], notOnce: [], bareEnds: [] });
  expect(prove(TWO_TONES.blocks, TWO_TONES)).toMatchObject({ shown: [], notOnce: [], bareEnds: [] });
});

test("sewn the other way round, ends lie bare and travel shows", () => {
  const blocks = SEWN.blocks.map((block) => ({
    ...block,
    x: block.x.toReversed(),
    y: block.y.toReversed(),
    kind: block.kind.map(() => 0),
    role: block.role.toReversed(),
  }));
  const { shown, bareEnds } = prove(blocks);
  expect(shown.length).toBeGreaterThan(0);
  expect(bareEnds.length).toBeGreaterThan(0);
});

test("blocks of thread in the wrong order", () => {
  const { shown, bareEnds } = prove(TWO_TONES.blocks.toReversed(), TWO_TONES);
  expect(shown.length + bareEnds.length).toBeGreaterThan(0);
});

test.each(["travel", "underlay"] as const)("one stitch of %s beside the ribbon", (role) => {
  const [block] = SEWN.blocks;
  if (!block) throw new Error("nothing was sewn");
  const at = block.role.indexOf(ROLES.indexOf(role));
  // The ribbon is 3.5 mm wide, and its openings as wide again.
  const { shown } = prove([moved(block, (_, i) => i === at, 40)]);
  expect(shown.map((stitch) => stitch.sequence)).toContain(at);
});

test("cover left out, and cover sewn twice", () => {
  const [block] = SEWN.blocks;
  if (!block) throw new Error("nothing was sewn");
  const half = block.x.length / 2;
  const missing = prove([kept(block, (role, i) => role !== "cover" || i < half)]);
  expect(missing.notOnce.some(({ times }) => times === 0)).toBe(true);
  expect(missing.shown.length).toBeGreaterThan(0);
  const twice = prove([block, block]);
  expect(twice.notOnce.every(({ times }) => times === 2)).toBe(true);
  expect(twice.notOnce.length).toBeGreaterThan(0);
});
