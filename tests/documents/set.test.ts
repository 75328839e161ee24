import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { z } from "zod";
import { parseSet } from "../../src/documents/set.ts";

const SET = {
  plaitwrightSet: 1,
  profile: "leather-inlay",
  designs: ["lid.plait.json", "left side.json"],
  ribbon: { width: 4, gap: 1.5 },
};

test("a set names its designs, the folder of each, and what they share", () => {
  expect(parseSet(JSON.stringify(SET), "chest.set.json")).toEqual({
    ok: true,
    value: {
      profile: "leather-inlay",
      designs: [
        { file: "lid.plait.json", folder: "lid" },
        { file: "left side.json", folder: "left side" },
      ],
      ribbon: { widthMm: 4, gapMm: 1.5 },
      hand: "Z",
    },
  });
});

test.each<[string, object, object]>([
  ["another version alone", { plaitwrightSet: 3, designs: [] }, { code: "wrong-version" }],
  ["a design elsewhere", { designs: ["a/b.json"] }, { code: "not-beside", path: ["designs", 0] }],
  ["a hidden design", { designs: [".plait.json"] }, { code: "not-beside" }],
  ["a design that is no design file", { designs: ["lid.svg"] }, { code: "not-beside" }],
  [
    "two designs of one folder",
    { designs: ["lid.plait.json", "LID.JSON"] },
    { code: "design-twice", path: ["designs", 1], found: "LID.JSON", folder: "LID" },
  ],
  ["no width", { ribbon: { width: 0, gap: 1 } }, { code: "number-out-of-range", path: ["ribbon", "width"] }],
  ["another hand", { hand: "X" }, { code: "unknown-word", path: ["hand"] }],
])("refused: %s", (_, change, fault) => {
  const read = parseSet(JSON.stringify({ ...SET, ...change }), "chest.set.json");
  expect(read).toMatchObject({ ok: false, faults: [{ ...fault, file: "chest.set.json", line: 1 }] });
});

test.each([
  [SET, true],
  [{ ...SET, hand: "S", title: "Chest" }, true],
  [{ ...SET, ribbon: { width: 4 } }, false],
  [{ ...SET, designs: [] }, false],
])("the published schema judges alike (%#)", (document, good) => {
  const schema = readFileSync(new URL("../../shared/set.schema.json", import.meta.url), "utf8");
  expect(z.fromJSONSchema(JSON.parse(schema)).safeParse(document).success).toBe(good);
  expect(parseSet(JSON.stringify(document), "chest.set.json").ok).toBe(good);
});
