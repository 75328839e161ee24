import { expect, test } from "vitest";
import { placePanelFaults } from "../../src/documents/panel-places.ts";

test("a place of a panel is told as line and column of its document", () => {
  const text = '{\n  "plaitwright": 1,\n  "panel": [\n    "+-+",\n    "|y|"\n  ]\n}';
  const faults = [
    { code: "panel-character", row: 1, placeColumn: 1, found: "y", path: ["panel"] },
    { code: "panel-empty", path: ["panel"] },
  ] as const;
  // Row 1 stands in line 5: 4 blanks, a quote, `|`, and then `y` in column 7. The list opens in line 3, column 12.
  expect(placePanelFaults(faults, text, "a.plait.json")).toEqual([
    { ...faults[0], file: "a.plait.json", line: 5, column: 7 },
    { ...faults[1], file: "a.plait.json", line: 3, column: 12 },
  ]);
});
