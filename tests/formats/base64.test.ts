import { Buffer } from "node:buffer";
import { expect, test } from "vitest";
import { base64 } from "../../src/formats/base64.ts";

/** RFC 4648 section 10. */
test.each([
  ["", ""],
  ["f", "Zg=="],
  ["fo", "Zm8="],
  ["foo", "Zm9v"],
  ["foob", "Zm9vYg=="],
  ["fooba", "Zm9vYmE="],
  ["foobar", "Zm9vYmFy"],
])("%j is written %j", (text, wanted) => {
  expect(base64(new Uint8Array(Buffer.from(text, "latin1")))).toBe(wanted);
});

test("every byte in every place is read back by Node's own decoder", () => {
  const bytes = Uint8Array.from({ length: 3 * 256 + 1 }, (_, i) => (i * 85) & 255);
  expect(new Uint8Array(Buffer.from(base64(bytes), "base64"))).toEqual(bytes);
});
