/** SVG text -> curves in mm: the standard's grammar, units and transforms; and what is not read, told in one fault. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { explain } from "../../src/base/explain.ts";
import type { Fault } from "../../src/base/fault.ts";
import { curvePoint, type SmoothCurve } from "../../src/geometry/smooth-curve.ts";
import { curvesDiagram } from "../../src/readers/curves-diagram.ts";
import { type DrawnCurve, readSvgCurves } from "../../src/readers/svg-curves.ts";
import { svg } from "../support/drawn-svg.ts";

/** One user unit is one mm; y stays as written but for its sign. */
const MM = 'width="100mm" height="100mm" viewBox="0 0 100 100"';

function curvesOf(text: string): readonly DrawnCurve[] {
  const read = readSvgCurves(text, "drawn.svg");
  if (!read.ok) throw new Error(read.faults.map(explain).join("\n"));
  return read.value.curves;
}

function faultsOf(text: string): readonly Fault[] {
  const read = readSvgCurves(text, "drawn.svg");
  return read.ok ? [] : read.faults;
}

/** Path data in short: kinds, and the points that curves run to, in the file's own y. */
function shape(d: string): string {
  return curvesOf(svg(MM, `<path d="${d}"/>`))
    .map(({ closed, curves }) => `${start(curves)} ${curves.map(step).join(" ")}${closed ? " closed" : ""}`)
    .join(" | ");
}

function start(curves: readonly SmoothCurve[]): string {
  return curves[0] ? words(curves[0].from) : "";
}

function step(curve: SmoothCurve): string {
  return `${curve.kind} ${words(curve.to)}`;
}

function words({ x, y }: { readonly x: number; readonly y: number }): string {
  return [x, -y].map((value) => Number(value.toFixed(6)) + 0).join(",");
}

// SVG 1.1 (Second Edition), section 8.3: each pair is the same by the text or the grammar of the section named.
test.each([
  ["8.3.1 relative and absolute", "m10 10 l20 0 0 20z", "M10 10L30 10L30 30Z"],
  ["8.3.2 more pairs after a moveto are linetos", "M10 10 20 10 20 20", "M10 10L20 10L20 20"],
  ["8.3.2 … relative ones after a relative moveto", "m10 10 10 0 0 10", "M10 10L20 10L20 20"],
  ["8.3.2 a relative moveto that begins the data is absolute", "m10,10h5", "M10,10H15"],
  [
    "8.3.3 after a closepath the next subpath begins at the same point",
    "M10 10h10v10zh-5v-5z",
    "M10 10H20V20Z M10 10H5V5Z",
  ],
  ["8.3.4 several numbers after h and v", "M10 10h5 5v5 5", "M10 10H15H20V15V20"],
  [
    "8.3.6 a smooth curveto mirrors the handle",
    "M0 0C0 5 5 10 10 10S20 5 20 0",
    "M0 0C0 5 5 10 10 10C15 10 20 5 20 0",
  ],
  ["8.3.6 … but not after another command", "M0 0L10 10S20 5 20 0", "M0 0L10 10C10 10 20 5 20 0"],
  ["8.3.7 a smooth quadratic curveto", "M0 0Q5 10 10 0T20 0T30 0", "M0 0Q5 10 10 0Q15-10 20 0Q25 10 30 0"],
  ["8.3.9 superfluous white space and separators", "M 100 100 L 20 20", "M100 100L20 20"],
  ["8.3.9 a minus or a second point parts numbers", "M0.6.5L-1-2", "M 0.6 0.5 L -1 -2"],
  ["8.3.9 exponents", "M1e1 1E+1L2.5e1 300e-1", "M10 10L25 30"],
  ["8.3.9 flags need no separator", "M10 10a5 5 0 0110 0", "M10 10a5 5 0 0 1 10 0"],
  ["8.3.9 … nor does what follows them", "M10 10a5 5 0 01.5.5", "M10 10a5 5 0 0 1 0.5 0.5"],
  ["8.3.9 commas with and without spaces", "M10,10 , 20 , 10\t\n20,20", "M10 10L20 10L20 20"],
  ["8.3.9 no data, no drawing", "", ""],
])("path data %s", (_, d, same) => {
  expect(shape(d)).toBe(shape(same));
});

test("controls too are as the standard has them: by hand", () => {
  expect(curvesOf(svg(MM, '<path d="M0 0C0 5 5 10 10 10S20 5 20 0"/>'))[0]?.curves[1]).toMatchObject({
    kind: "cubic",
    control1: { x: 15, y: -10 },
    control2: { x: 20, y: -5 },
  });
});

// SVG 1.1, implementation notes F.6: middles by hand.
test.each([
  [
    "the short way, angles growing (down the page's right)",
    "M10 0A10 10 0 0 1 0 10",
    [Math.SQRT1_2 * 10, Math.SQRT1_2 * 10],
  ],
  ["the short way, against", "M10 0A10 10 0 0 0 0 10", [10 - Math.SQRT1_2 * 10, 10 - Math.SQRT1_2 * 10]],
  [
    "the long way, angles growing",
    "M10 0A10 10 0 1 1 0 10",
    [10 + Math.SQRT1_2 * 10, 10 + Math.SQRT1_2 * 10],
  ],
  ["F.6.6 radii too small grow until they reach", "M0 0A1 1 0 0 1 20 0", [10, -10]],
  ["F.6.6 … both in the same measure", "M0 0A1 2 0 0 1 20 0", [10, -20]],
  [
    "F.6.6 negative radii lose their sign",
    "M10 0A-10 -10 0 0 1 0 10",
    [Math.SQRT1_2 * 10, Math.SQRT1_2 * 10],
  ],
  ["an ellipse turned by a quarter", "M0 0A5 10 90 0 1 20 0", [10, -5]],
] as const)("arcs: %s", (_, d, [x, y]) => {
  const [curve] = curvesOf(svg(MM, `<path d="${d}"/>`))[0]?.curves ?? [];
  if (curve?.kind !== "ellipse") throw new Error("no arc");
  expect(words(curvePoint(curve, 0.5))).toBe(words({ x, y: -y }));
});

test.each([
  ["F.6.2 equal ends: the arc is left out", "M5 5A10 10 0 1 1 5 5L9 9", "5,5 line 5,5 line 9,9"],
  ["F.6.2 a radius of 0 is a line", "M5 5A0 10 0 1 1 9 9", "5,5 line 9,9"],
])("arcs: %s", (_, d, wanted) => {
  expect(shape(d)).toBe(wanted);
});

// SVG 1.1, chapter 9, by hand.
test.each([
  ["line", '<line x1="1" y1="2" x2="3" y2="4"/>', "1,2 line 3,4"],
  ["polyline", '<polyline points="0,0 10,0, 10-5"/>', "0,0 line 10,0 line 10,-5"],
  ["polygon", '<polygon points="0 0 10 0 10 5"/>', "10,5 line 0,0 line 10,0 line 10,5 closed"],
  ["circle", '<circle cx="10" cy="10" r="5"/>', "15,10 ellipse 15,10 closed"],
  ["a circle of no size", '<circle cx="10" cy="10" r="0"/>', ""],
  ["rect", '<rect x="1" y="2" width="10" height="5"/>', "1,7 line 1,2 line 11,2 line 11,7 line 1,7 closed"],
  [
    "a rect with one corner radius, held to half the side",
    '<rect x="0" y="0" width="20" height="6" rx="4"/>',
    "4,0 line 16,0 ellipse 20,3 line 20,3 ellipse 16,6 line 4,6 ellipse 0,3 line 0,3 ellipse 4,0 closed",
  ],
])("shapes: %s", (_, content, wanted) => {
  const found = curvesOf(svg(MM, content))
    .map(({ closed, curves }) => `${start(curves)} ${curves.map(step).join(" ")}${closed ? " closed" : ""}`)
    .join(" | ");
  expect(found).toBe(wanted);
});

// CSS Values and Units: 1 in = 2.54 cm = 25.4 mm = 72 pt = 6 pc = 96 px. The line is 10 units long.
test.each([
  ["mm", 'width="100mm" height="100mm" viewBox="0 0 50 50"', 20],
  ["cm", 'width="10cm" height="10cm" viewBox="0 0 50 50"', 20],
  ["in", 'width="1in" height="1in" viewBox="0 0 10 10"', 25.4],
  ["pt", 'width="72pt" height="72pt" viewBox="0 0 10 10"', 25.4],
  ["pc", 'width="6pc" height="6pc" viewBox="0 0 10 10"', 25.4],
  ["px", 'width="96px" height="96" viewBox="0 0 10 10"', 25.4],
  ["no unit, no viewBox: px", 'width="500" height="500"', (10 * 25.4) / 96],
  ["a width in mm, no viewBox: still px", 'width="500mm" height="500mm"', (10 * 25.4) / 96],
  ["only the width", 'width="100mm" viewBox="0 0 50 99"', 20],
  ["percentages, as if not there", 'width="100%" height="100%" viewBox="0 0 5 5"', (10 * 25.4) / 96],
  ["the smaller scale fits", 'width="100mm" height="10mm" viewBox="0 0 10 10"', 10],
  [
    "slice: the larger covers",
    'width="100mm" height="10mm" viewBox="0 0 10 10" preserveAspectRatio="xMidYMid slice"',
    100,
  ],
  ["none: each its own", 'width="100mm" height="10mm" viewBox="0 0 10 10" preserveAspectRatio="none"', 100],
])("units: %s", (_, root, length) => {
  const [curve] = curvesOf(svg(root, '<path d="M3 4h10"/>'))[0]?.curves ?? [];
  expect((curve?.to.x ?? 0) - (curve?.from.x ?? 0)).toBeCloseTo(length, 9);
});

test("lengths of shapes have units of their own: in px, 10 mm is 37.8", () => {
  const [curve] = curvesOf(svg("", '<line x2="10mm" y2="1cm"/>'))[0]?.curves ?? [];
  expect(curve?.to.x).toBeCloseTo(10, 9);
  expect(curve?.to.y).toBeCloseTo(-10, 9);
});

// SVG 1.1, section 7.6, by hand: where (1, 0) and (0, 1) land.
test.each([
  ["matrix(1 2 3 4 5 6)", [6, 8], [8, 10]],
  ["translate(5)", [6, 0], [5, 1]],
  ["scale(2)", [2, 0], [0, 2]],
  ["scale(2,3)", [2, 0], [0, 3]],
  ["rotate(90)", [0, 1], [-1, 0]],
  ["rotate(90 1 1)", [2, 1], [1, 0]],
  ["skewX(45)", [1, 0], [1, 1]],
  ["skewY(45)", [1, 1], [0, 1]],
  ["translate(10,0) , scale(2)", [12, 0], [10, 2]],
  ["scale(2) translate(10 0)", [22, 0], [20, 2]],
] as const)("transforms: %s", (transform, [ax, ay], [bx, by]) => {
  const [curve] = curvesOf(svg(MM, `<g transform="${transform}"><path d="M1 0L0 1"/></g>`))[0]?.curves ?? [];
  expect(words(curve?.from ?? { x: Number.NaN, y: 0 })).toBe(words({ x: ax, y: -ay }));
  expect(words(curve?.to ?? { x: Number.NaN, y: 0 })).toBe(words({ x: bx, y: -by }));
});

test("a circle scaled unevenly is the ellipse", () => {
  const [curve] = curvesOf(svg(MM, '<circle r="5" transform="scale(3 1)"/>'))[0]?.curves ?? [];
  if (curve?.kind !== "ellipse") throw new Error("no arc");
  // At an eighth: (15 cos 45, 5 sin 45).
  expect(words(curvePoint(curve, 1 / 8))).toBe(words({ x: 15 * Math.SQRT1_2, y: -5 * Math.SQRT1_2 }));
});

test("what is hidden or kept for reference is passed over, and other namespaces are", () => {
  const line = '<path d="M0 0H9"/>';
  const text = svg(
    `${MM} xmlns:x="urn:x"`,
    `<!-- ${line.replaceAll("--", "")} --><title>M0 0H9</title><style>path{}</style>
     <defs>${line}<g>${line}</g></defs><symbol>${line}</symbol><clipPath>${line}</clipPath><mask>${line}</mask>
     <g display="none">${line}</g><g style="fill:none;display : none">${line}</g><path style="display:none" d="M0 0H9"/>
     <x:path d="M0 0H9"/><x:g>${line}</x:g><text>M0 0H9</text><image href="http://127.0.0.1/x.png"/>
     <g onclick="alert(1)"><a href="#"><path
        d="M1 1H9"><title>the only one</title></path></a></g>`,
  );
  const curves = curvesOf(text);
  expect(curves).toHaveLength(1);
  expect(curvesOf(text.replaceAll("\n", "\r\n"))[0]?.line).toBe(6);
  // Line 1 is the root's tag; the path begins on the sixth.
  expect(curves[0]?.line).toBe(6);
});

const DTD =
  '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">';

test("a declaration, a named document type, a byte-order mark and a missing namespace do no harm", () => {
  const body = '<path d="M0 0H9"/>';
  expect(curvesOf(`<?xml version="1.0" encoding="UTF-8"?>\n${DTD}\n${svg(MM, body)}`)).toHaveLength(1);
  expect(curvesOf(`\ufeff${svg(MM, body)}`)).toHaveLength(1);
  expect(curvesOf(`<svg>${body}</svg>`)).toHaveLength(1);
  expect(curvesOf(`<s:svg xmlns:s="http://www.w3.org/2000/svg"><s:path d="M0 0H9"/></s:svg>`)).toHaveLength(
    1,
  );
});

const BOMB = `<!DOCTYPE svg [<!ENTITY a "ha">${Array.from({ length: 9 }, (_, i) => `<!ENTITY a${i} "${`&a${i - 1};`.repeat(10)}">`).join("")}]>`;

/** Every refusal is one fault with its line. */
test.each([
  ["no text", "", { code: "not-xml" }],
  ["no XML", "hello", { code: "not-xml", line: 1 }],
  ["cut off", '<svg xmlns="http://www.w3.org/2000/svg"><g>', { code: "not-xml" }],
  ["wrongly nested", svg("", "<g><a></g></a>"), { code: "not-xml", line: 2 }],
  ["an unknown entity", svg("", '<path d="&evil;"/>'), { code: "not-xml", line: 2 }],
  ["entities within entities", BOMB + svg("", "&a9;"), { code: "svg-entities", line: 1 }],
  [
    "an outside entity",
    `<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>${svg("", "<text>&x;</text>")}`,
    { code: "svg-entities", line: 1 },
  ],
  ["another root", "<html><svg/></html>", { code: "not-svg", found: "html" }],
  ["another namespace", '<svg xmlns="urn:x"/>', { code: "not-svg" }],
  [
    "a script",
    svg("", "<defs>\n<script>alert(1)</script></defs>"),
    { code: "svg-element", element: "script", line: 3 },
  ],
  ["a clone", svg("", '\n<use href="#a"/>'), { code: "svg-element", element: "use", line: 3 }],
  ["an inner svg", svg("", "<g><svg/></g>"), { code: "svg-element", element: "svg", line: 2 }],
  ["deep nesting", svg("", "<g>".repeat(5000) + "</g>".repeat(5000)), { code: "svg-too-deep", most: 64 }],
  ["10 MB", svg("", `<path d="${"M0 0 ".repeat(2_000_000)}"/>`), { code: "file-too-large", most: 8 }],
  [
    "NaN",
    svg(MM, '<circle r="NaN"/>'),
    { code: "svg-attribute", element: "circle", attribute: "r", found: "NaN" },
  ],
  ["1e999", svg(MM, '<path d="M0 0L1e999 0"/>'), { code: "drawing-too-large", mostMm: 100_000 }],
  ["1e999 as a radius", svg(MM, '<path d="M0 0A1e999 5 0 0 1 9 9"/>'), { code: "drawing-too-large" }],
  ["1e999 as a length", svg(MM, '<circle r="1e999"/>'), { code: "svg-attribute", attribute: "r" }],
  ["200 m", svg(MM, '<path d="M0 0L200000 0"/>'), { code: "drawing-too-large", reachMm: 200_000 }],
  ["a negative radius", svg(MM, '<circle r="-5"/>'), { code: "svg-attribute", attribute: "r" }],
  ["a percentage", svg(MM, '<circle r="5%"/>'), { code: "svg-attribute", attribute: "r" }],
  ["a unit that hangs on a font", svg(MM, '<line x1="2em"/>'), { code: "svg-attribute", attribute: "x1" }],
  ["a comma for a point", svg(MM, '<line x1="2,5"/>'), { code: "svg-attribute", attribute: "x1" }],
  [
    "points that do not pair",
    svg(MM, '<polygon points="1 2 3"/>'),
    { code: "svg-attribute", attribute: "points" },
  ],
  [
    "an unknown transform",
    svg(MM, '<g transform="spin(3)"/>'),
    { code: "svg-attribute", attribute: "transform" },
  ],
  [
    "a transform with too few numbers",
    svg(MM, '<g transform="matrix(1 2 3)"/>'),
    { code: "svg-attribute", element: "g" },
  ],
  [
    "a transform in the style",
    svg(MM, '<g style="transform:rotate(3deg)"/>'),
    { code: "svg-attribute", attribute: "style" },
  ],
  [
    "no size",
    svg('width="0" height="10" viewBox="0 0 1 1"', ""),
    { code: "svg-attribute", attribute: "width" },
  ],
  ["an empty viewBox", svg('viewBox="0 0 0 10"', ""), { code: "svg-attribute", attribute: "viewBox" }],
  [
    "path data without a moveto",
    svg(MM, '<path d="L9 9"/>'),
    { code: "svg-attribute", attribute: "d", line: 2 },
  ],
  [
    "path data that breaks off",
    svg(MM, '<path d="M0 0L9 9 5"/>'),
    { code: "svg-attribute", attribute: "d", found: "" },
  ],
  [
    "a strange command",
    svg(MM, '<path d="M0 0L9 9X5 5"/>'),
    { code: "svg-attribute", attribute: "d", found: "X5 5" },
  ],
  [
    "a command that is not the standard's",
    svg(MM, '<path d="M0 0R9 9 5 5"/>'),
    { code: "svg-attribute", found: "R9 9 5 5" },
  ],
  ["a wrong flag", svg(MM, '<path d="M0 0A5 5 0 2 0 9 9"/>'), { code: "svg-attribute", found: "2 0 9 9" }],
] as const)("refused: %s", (_, text, wanted) => {
  const faults = faultsOf(text);
  expect(faults).toHaveLength(1);
  expect(faults[0]).toMatchObject({ file: "drawn.svg", ...wanted });
  const [fault] = faults;
  expect(fault && explain(fault)).toMatch(/^drawn\.svg.*\.$/);
});

test("whatever is done to a file, the answer is curves or faults with words", () => {
  const sound = svg(
    MM,
    `<g transform="translate(3 4) rotate(20)"><path d="M10 10c5 5 9-9 20 0a5 5 0 0120 0z" style="fill:none"/></g>
    <rect x="5" y="6" width="20" height="10" rx="2mm"/><circle r="5"/><polyline points="1,2 3,4 5.5e0,6"/>`,
  );
  const piece = fc.oneof(
    fc.constantFrom(
      "<",
      ">",
      '"',
      "&",
      "&#0;",
      "&lt;",
      "<!DOCTYPE",
      "<![CDATA[",
      "]]>",
      "<g>",
      "</g>",
      "-",
      "e9",
      "1e308",
    ),
    fc.constantFrom(
      "A",
      "z",
      "0",
      ".",
      ",",
      "-1e-308",
      "999999",
      "\u0000",
      "\ud800",
      "\n",
      "xmlns",
      "scale(0)",
      "NaN",
    ),
    fc.string({ maxLength: 4 }),
  );
  const edit = fc.record({ at: fc.nat(sound.length), gone: fc.nat(12), piece });
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 4 }), (edits) => {
      let text = sound;
      for (const { at, gone, piece: put } of edits) text = text.slice(0, at) + put + text.slice(at + gone);
      const curves = readSvgCurves(text, "drawn.svg");
      const faults = curves.ok ? diagramFaults(curves.value) : curves.faults;
      for (const fault of faults) expect(explain(fault)).toMatch(/^drawn\.svg[\s\S]+\.$/);
    }),
    { numRuns: 2000, seed: 11 },
  );
});

function diagramFaults(curves: Parameters<typeof curvesDiagram>[0]): readonly Fault[] {
  const diagram = curvesDiagram(curves);
  return diagram.ok ? [] : diagram.faults;
}
