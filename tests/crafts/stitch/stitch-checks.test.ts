/** Every rule of satin failed on purpose, its measured value worked out by hand. */
import { describe, expect, test } from "vitest";
import type { SatinSettings } from "../../../src/crafts/stitch/settings.ts";
import { checkSatin } from "../../../src/crafts/stitch/stitch-checks.ts";
import { stitchGeometry } from "../../../src/crafts/stitch/stitch-geometry.ts";
import { findFaces } from "../../../src/diagram/faces.ts";
import type { KnotDiagram } from "../../../src/diagram/knot-diagram.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { columnCase, loopDiagram, polygon, ring } from "./column-case.ts";
import { sampleSatin } from "./sample-settings.ts";

const { ribbon } = sampleSatin();

function checksOf(diagram: KnotDiagram, changes: Partial<SatinSettings> = {}) {
  const { ribbons, settings } = columnCase(diagram, changes);
  return checkSatin(stitchGeometry(diagram, findFaces(diagram), ribbons, settings.pullMm), settings);
}

const PANEL = wovenPanel(plainPanel(3, 3)).diagram;
/** Rings one within the other, 5 mm apart. */
const TARGET = loopDiagram([ring(40, 40, 12), ring(40, 40, 7)]);

interface Case {
  readonly rule: string;
  readonly diagram: KnotDiagram;
  readonly changes: Partial<SatinSettings>;
  readonly verdict: "fail" | "warning";
  readonly measured: number;
  readonly limit: number;
  readonly remedies: readonly (readonly [string, unknown])[];
}

const CASES: readonly Case[] = [
  {
    rule: "least-satin",
    diagram: PANEL,
    changes: { ribbon: { ...ribbon, widthMm: 1, widthFixed: true }, tooNarrow: "fault" },
    verdict: "fail",
    measured: 1,
    limit: 1.2,
    remedies: [["width", 1.2]],
  },
  {
    // Width follows the pitch: 10 mm * 1.2 / 1.
    rule: "least-satin",
    diagram: PANEL,
    changes: { ribbon: { ...ribbon, widthMm: 1 }, tooNarrow: "bean" },
    verdict: "warning",
    measured: 1,
    limit: 1.2,
    remedies: [
      ["width", 1.2],
      ["pitch", 12],
    ],
  },
  {
    rule: "greatest-satin",
    diagram: PANEL,
    changes: { greatestSatinMm: 3 },
    verdict: "fail",
    measured: 3.2,
    limit: 3,
    remedies: [
      ["width", 3],
      ["pitch", 9.38],
    ],
  },
  {
    // 12 - 7 - 3.6: the same all the way round.
    rule: "column-gap",
    diagram: TARGET,
    changes: { ribbon: { ...ribbon, widthMm: 3.6, widthFixed: true }, leastGapMm: 1.6 },
    verdict: "fail",
    measured: 1.4,
    limit: 1.6,
    remedies: [
      ["width", 3.4],
      ["pitch", 10.4],
    ],
  },
  {
    // Half the sewn width is 1.75.
    rule: "bend-in-column",
    diagram: loopDiagram([ring(40, 40, 1.65)]),
    changes: {},
    verdict: "fail",
    measured: -0.1,
    limit: 0,
    remedies: [
      ["width", 3],
      ["pitch", 30],
    ],
  },
  {
    // The square's inscribed circle: 8 cos 45 degrees, less half the ribbon, twice.
    rule: "open-counter",
    diagram: loopDiagram([polygon(4, 8)]),
    changes: { leastCounterMm: 9, ribbon: { ...ribbon, widthFixed: true } },
    verdict: "fail",
    measured: 2 * 8 * Math.SQRT1_2 - 3.2,
    limit: 9,
    remedies: [
      ["width", 2.31],
      ["pitch", 10.79],
    ],
  },
  {
    // 80 + 3.5 wide and high, in a field of 100 - 10 by 80 - 10.
    rule: "hoop",
    diagram: loopDiagram([ring(40, 40, 40)]),
    changes: { hoopWidthMm: 100, hoopHeightMm: 80 },
    verdict: "fail",
    measured: 13.5,
    limit: 0,
    remedies: [
      ["pitch", 8.38],
      ["hoopHeightMm", 94],
    ],
  },
];

describe.each(CASES)("$rule, $verdict at $measured", (given) => {
  const found = checksOf(given.diagram, given.changes).find(({ rule }) => rule === given.rule);

  test("is measured and judged", () => {
    expect(found?.verdict).toBe(given.verdict);
    expect(found?.limit).toBe(given.limit);
    expect(Math.abs((found?.measured ?? Number.NaN) - given.measured)).toBeLessThan(0.05);
    expect(found?.places.length).toBeGreaterThan(0);
  });

  test("offers remedies with numbers", () => {
    expect(found?.remedies.map(({ change }) => change)).toEqual(given.remedies.map(([change]) => change));
    for (const [i, [, value]] of given.remedies.entries())
      expect(Math.abs(Number(found?.remedies[i]?.value) - Number(value))).toBeLessThan(0.05);
  });
});

test("a plain panel of the profile's numbers passes", () => {
  expect(checksOf(PANEL).filter(({ verdict }) => verdict !== "pass")).toEqual([]);
});

test("a tall piece in a wide hoop is to be turned", () => {
  const tall = wovenPanel(plainPanel(2, 6)).diagram;
  const hoop = checksOf(tall, { hoopWidthMm: 90, hoopHeightMm: 50 }).find(({ rule }) => rule === "hoop");
  expect(hoop).toMatchObject({ verdict: "warning", measured: 0, remedies: [{ change: "turn", value: 90 }] });
});

test("a remedy applied makes its check pass", () => {
  const narrower = { ...ribbon, widthMm: 2.31, widthFixed: true };
  const again = checksOf(loopDiagram([polygon(4, 8)]), { leastCounterMm: 9, ribbon: narrower });
  expect(again.find(({ rule }) => rule === "open-counter")?.verdict).toBe("pass");
});
