import { decode } from "fast-png";
import { expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import { writePng16, writePngRgb } from "../../src/formats/png.ts";
import type { HeightField } from "../../src/output/height-field.ts";
import { readChunks, readPng, textOf } from "./png-chunks.ts";

/** 256 x 257 pixels that show every step of grey once and the greatest again in the lowest row. */
const ALL_STEPS: HeightField = {
  columns: 256,
  rows: 257,
  stepMm: 0.1,
  minX: 0,
  minY: 0,
  z: Float32Array.from({ length: 256 * 257 }, (_, i) => Math.min(65535, 65536 + 255 - i) / 1024 - 64),
};
const SCALE = { title: "Relief", lowZMm: -64, highZMm: -64 + 65535 / 1024 };

test("every 16-bit value is read back by pngjs, the greatest y in the first row", () => {
  const { width, height, data } = readPng(writePng16(ALL_STEPS, SCALE));
  expect([width, height]).toEqual([256, 257]);
  // pngjs gives red, green, blue and alpha of each pixel.
  const wrong: string[] = [];
  for (let row = 0; row < 257; row++) {
    for (let column = 0; column < 256; column++) {
      // Row 256 of the field holds 255 … 0, row 0 stands in the picture's last row.
      const wanted = Math.min(65535, 65536 + 255 - ((256 - row) * 256 + column));
      const at = 4 * (row * 256 + column);
      if (data[at] !== wanted || data[at + 3] !== 65535) wrong.push(`${row},${column}: ${data[at]}`);
    }
  }
  expect(wrong).toEqual([]);
});

test.each([
  [-5, 0],
  [-4, 0],
  [-2, 32768], // half of 65535, rounded up
  [0, 65535],
  [1, 65535],
])("black is -4 mm and white 0, heights beyond are clipped: %d mm is grey %d", (z, grey) => {
  const field = { columns: 2, rows: 2, stepMm: 1, minX: 0, minY: 0, z: new Float32Array(4).fill(z) };
  expect(readPng(writePng16(field, { title: "", lowZMm: -4, highZMm: 0 })).data[0]).toBe(grey);
});

test("the size of a pixel and the texts stand between header and pixels", () => {
  const chunks = readChunks(
    writePng16({ ...ALL_STEPS, stepMm: 0.1 }, { title: "Gate panel", lowZMm: -6.5535, highZMm: 0 }),
  );
  expect(chunks.map(({ type }) => type)).toEqual(["IHDR", "pHYs", "tEXt", "tEXt", "tEXt", "IDAT", "IEND"]);
  // 0.1 mm a pixel are 10000 pixels to the metre (unit 1), each way.
  const size = chunks[1]?.body;
  expect([size?.readUInt32BE(0), size?.readUInt32BE(4), size?.[8], size?.length]).toEqual([
    10_000, 10_000, 1, 9,
  ]);
  expect(textOf(chunks, "Title")).toBe("Gate panel");
  // 6.5535 mm in 65535 steps.
  expect(textOf(chunks, "Description")).toContain("1 step of grey = 0.0001 mm; 1 pixel = 0.1 mm.");
  expect(textOf(chunks, "Description")).toContain("Black: z = -6.5535 mm; white: z = 0 mm");
  expect(textOf(chunks, "Software")).toBe("plaitwright");
});

test.each([
  ["Latin-1", "Tür 12 × 8", "tEXt", "Tür 12 × 8"],
  ["Greek", "πλέγμα", "iTXt", "πλέγμα"],
  ["outside the basic plane", "𝔎not", "iTXt", "𝔎not"],
  ["a control character and half a surrogate pair", "a\u0000b\uD800", "iTXt", "a\uFFFDb\uFFFD"],
])("a title in %s", (_, title, type, wanted) => {
  const chunks = readChunks(writePng16(ALL_STEPS, { ...SCALE, title }));
  expect(textOf(chunks, "Title")).toBe(wanted);
  expect(chunks[2]?.type).toBe(type);
});

test.each([
  ["colours enough for a palette", 200],
  ["a palette just full", 256],
  ["one colour more", 257],
  ["many colours", 2500],
])("a picture is read back as it was: %s", (_, colours) => {
  const width = 50;
  const height = 60;
  const data = Uint8Array.from({ length: 3 * width * height }, (_, i) => {
    const colour = Math.floor(i / 3) % colours;
    return [colour & 255, colour >> 8, 255 - (colour & 255)][i % 3] ?? 0;
  });
  const png = writePngRgb({ width, height, data }, { stepMm: 0.2 });
  const read = readPng(png);
  expect(Uint8Array.from(read.data).filter((_, i) => i % 4 < 3)).toEqual(data);
  expect(readChunks(png)[1]?.body.readUInt32BE(0)).toBe(5000);
  expect(readChunks(png).some(({ type }) => type === "PLTE")).toBe(colours <= 256);
});

test("fast-png's reader finds every check sum right, also those of the chunks that we add", () => {
  // pngjs does not look at those of chunks that it has no use for.
  const grey = decode(writePng16(ALL_STEPS, SCALE), { checkCrc: true });
  expect(grey.resolution).toEqual({ x: 10_000, y: 10_000, unit: 1 });
  expect(grey.text["Title"]).toBe("Relief");
  const data = new Uint8Array(12).fill(7);
  expect(decode(writePngRgb({ width: 2, height: 2, data }), { checkCrc: true }).text["Software"]).toBe(
    "plaitwright",
  );
});

test("the same field gives the same bytes", () => {
  expect(writePng16(ALL_STEPS, SCALE)).toEqual(writePng16(structuredClone(ALL_STEPS), SCALE));
});

test.each([
  ["white is not above black", () => writePng16(ALL_STEPS, { title: "", lowZMm: 0, highZMm: 0 })],
  ["a height is no number", () => writePng16({ ...ALL_STEPS, z: ALL_STEPS.z.map(() => Number.NaN) }, SCALE)],
  ["a pixel has no size", () => writePng16({ ...ALL_STEPS, stepMm: Number.NaN }, SCALE)],
  ["bytes are missing", () => writePngRgb({ width: 2, height: 2, data: new Uint8Array(11) })],
])("a fault of ours is told: %s", (_, write) => {
  expect(write).toThrow(InternalError);
});
