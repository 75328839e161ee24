/**
 * A cap needs the over-strand only near its crossing: a pointed corner further along the same
 * edge, too near for the wide gap to go round it, used to cost the piece its outline.
 */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { crossingCount } from "../../src/diagram/knot-diagram.ts";
import { parseDesign } from "../../src/documents/design.ts";
import { makeRibbons } from "../../src/ribbon/ribbon.ts";
import { wovenPanel } from "../support/panel-piece.ts";

const SAMPLE = new URL("../../samples/sea-chest-lid.plait.json", import.meta.url);

test.each([0.8, 1.95, 2.2])(
  "every piece of the lid is drawn at a gap of %s mm and a pitch of 12 mm",
  (gapMm) => {
    const design = parseDesign(readFileSync(SAMPLE, "utf8"), "sea-chest-lid.plait.json");
    if (!design.ok) throw new Error("the sample does not read");
    const { diagram, strands } = wovenPanel(design.value.panel, "Z", {
      pitchMm: { across: 12, down: 12 },
      corner: "pointed",
    });
    const { pieces, troubles } = makeRibbons(diagram, strands, { widthMm: 3.6, gapMm });
    expect(troubles).toEqual([]);
    // In an alternating weave every crossing ends one piece and begins another.
    expect(pieces).toHaveLength(crossingCount(diagram));
  },
);
