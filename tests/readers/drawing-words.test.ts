/** The words of what can be wrong with a drawing: read these as a craftsperson would. */
import { expect, test } from "vitest";
import { explain } from "../../src/base/explain.ts";
import type { Fault } from "../../src/base/fault.ts";

const at = { file: "drawn.svg", line: 4 };
const place = { ...at, xMm: 12.3456, yMm: 7 };
const WHERE = "12.35 mm from the left and 7 mm from the bottom of the drawing";

const GOLDEN: readonly (readonly [Fault, string])[] = [
  [
    { code: "not-xml", ...at, column: 9, found: "Unclosed tag: g." },
    "drawn.svg, line 4, column 9: the file is not well-formed XML: unclosed tag: g. Export it again from the drawing program.",
  ],
  [
    { code: "not-svg", ...at, found: "html" },
    "drawn.svg, line 4: found the element `html`, where an SVG file begins with `svg`.",
  ],
  [
    { code: "svg-entities", ...at },
    "drawn.svg, line 4: the file defines entities of its own, and such files are not read. Export it as plain SVG.",
  ],
  [
    { code: "svg-too-deep", ...at, most: 64 },
    "drawn.svg, line 4: groups nest deeper than 64 here. Ungroup the drawing, and export it again.",
  ],
  [
    { code: "svg-element", ...at, element: "use" },
    "drawn.svg, line 4: `use` repeats another element, and is not followed. Turn clones into real copies, and export again.",
  ],
  [
    { code: "svg-element", ...at, element: "script" },
    "drawn.svg, line 4: the file holds a script, and such files are not read. Export it as plain SVG.",
  ],
  [
    { code: "svg-element", ...at, element: "svg" },
    "drawn.svg, line 4: found `svg` inside the drawing, which is not read there. Ungroup it, and export again.",
  ],
  [
    { code: "svg-attribute", ...at, element: "circle", attribute: "r", found: "5%", wanted: "a length" },
    "drawn.svg, line 4: `r` of `circle` holds “5%”, where a length is wanted.",
  ],
  [
    { code: "drawing-too-large", ...at, reachMm: 200_000, mostMm: 100_000 },
    "drawn.svg, line 4: this reaches 200000 mm from the drawing's origin, and 100000 mm is the most. Check its units and transforms.",
  ],
  [
    { code: "drawing-too-rich", file: "drawn.svg", most: 250_000, of: "crossings" },
    "drawn.svg: the drawing has more than 250000 crossings, and that is the most that is read. Divide it.",
  ],
  [
    { code: "drawing-empty", file: "drawn.svg" },
    "drawn.svg: nothing to draw: the file holds no path, line or shape that can be seen.",
  ],
  [
    { code: "strand-open", ...place, joinMm: 0.05 },
    `drawn.svg, line 4: a strand ends at ${WHERE}, and every strand has to close. Draw it on to the next end; ends closer than 0.05 mm are joined.`,
  ],
  [
    { code: "strand-branch", ...place },
    `drawn.svg, line 4: three or more ends meet at ${WHERE}, so it is open which of them go on into each other. Leave two.`,
  ],
  [
    { code: "strands-touch", ...place, otherLine: 6 },
    `drawn.svg, line 4: strands touch without crossing at ${WHERE} (the other is drawn in line 6). Draw them across each other or further apart.`,
  ],
  [
    { code: "strands-overlap", ...place },
    `drawn.svg, line 4: strands run on top of each other at ${WHERE}. Move one, or take away what is drawn twice.`,
  ],
  [
    { code: "crossing-flat", ...place, angleDeg: 11.4, leastDeg: 20 },
    `drawn.svg, line 4: strands cross at only 11.4 degrees at ${WHERE}, and 20 degrees is the least. Let them cross more steeply.`,
  ],
  [
    { code: "crossings-crowd", ...place, leastMm: 0.1 },
    `drawn.svg, line 4: three strands pass through one place, or two crossings lie closer than 0.1 mm, at ${WHERE}. Move one strand aside.`,
  ],
  [{ code: "more-places", file: "drawn.svg", count: 1 }, "drawn.svg: and 1 more place like these."],
  [
    { code: "strands-unclear", file: "drawn.svg" },
    "drawn.svg: the strands come so near to each other somewhere that it is unclear what crosses what. Move them apart.",
  ],
];

test.each(GOLDEN)("$code in words", (fault, words) => {
  expect(explain(fault)).toBe(words);
});
