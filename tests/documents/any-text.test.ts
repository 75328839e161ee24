/** Laws that hold for any text at all: nothing throws, and what is refused is explained. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { explain } from "../../src/base/explain.ts";
import { parseDesign } from "../../src/documents/design.ts";
import { parseProfile } from "../../src/documents/profile.ts";

const KEYS = [
  "plaitwright",
  "plaitwrightProfile",
  "title",
  "pitch",
  "ribbon",
  "panel",
  "hand",
  "pieces",
  "numbers",
];
const key = fc.oneof(fc.constantFrom(...KEYS, "width", "craft", "kerfMm", "__proto__"), fc.string());
const { value } = fc.letrec<{ value: unknown }>((tie) => ({
  value: fc.oneof(
    { depthSize: "small" },
    fc.constantFrom(1, "Z", "leather-inlay", null, true, Number.MAX_VALUE, -0),
    fc.double(),
    fc.string({ unit: "binary" }),
    fc.array(tie("value"), { maxLength: 5 }),
    fc.dictionary(key, tie("value"), { maxKeys: 6 }),
  ),
}));

function readBoth(text: string): void {
  for (const result of [parseDesign(text, "a.json"), parseProfile(text, "a.json")]) {
    const messages = result.ok ? [] : result.faults.map(explain);
    if (!result.ok) expect(messages.length).toBeGreaterThan(0);
    for (const message of messages) {
      expect(message).toMatch(/^a\.json, line \d+, column \d+.*: .+[.?]$/su);
      // Nothing from a file may steer a terminal.
      expect(message).not.toMatch(/\p{Cc}/u);
    }
  }
}

test("any JSON is read or refused", () => {
  fc.assert(fc.property(value, (json) => readBoth(JSON.stringify(json) ?? "")));
});

test("any text is read or refused", () => {
  const shred = fc.constantFrom(
    "{",
    "}",
    "[",
    "]",
    ",",
    ":",
    '"',
    "\\",
    "//",
    "/*",
    "1",
    "-",
    "e",
    "\n",
    "\ufeff",
  );
  const text = fc.oneof(
    fc.string({ unit: "binary" }),
    fc.array(shred).map((parts) => parts.join("")),
  );
  fc.assert(fc.property(text, readBoth));
});

test("a good design with one character changed is read or refused", () => {
  const good =
    '{"plaitwright":1,"title":"a","pitch":[12,10],"ribbon":{"width":4,"corner":"round"},"panel":["+-+","|o|","+-+"]}';
  fc.assert(
    fc.property(
      fc.nat(good.length),
      fc.nat(1),
      fc.string({ unit: "binary", maxLength: 1 }),
      (at, cut, typed) => {
        readBoth(good.slice(0, at) + typed + good.slice(at + cut));
      },
    ),
  );
});
