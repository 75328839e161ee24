/** Every rule failed on purpose, its measured value worked out by hand, and every remedy taken up. */
import { expect, test } from "vitest";
import { applyRemedy } from "../../../src/documents/apply-remedy.ts";
import type { Overrides } from "../../../src/documents/job-settings.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { polygonOf } from "../../support/polygon-oracle.ts";
import { checkOf, leatherProfile, type NumberChanges, panelDesign, prepared } from "./inlay-case.ts";

const PITCH = 16;
/** Two cells, each a closed loop: the breakline between them has a lane on each side, 8 mm apart. */
const TWO_LOOPS = ["+-+-+", "|o|o|", "+-+-+"];
const ONE_LOOP = ["+-+", "|o|", "+-+"];

/** Kerf and clearance of the profile: 0.2 and -0.05 mm. Ribbon 0.3 and gap 0.14 of the pitch: 4.8 and 2.24 mm. */
interface Case {
  readonly rule: string;
  readonly panel: readonly string[];
  readonly numbers?: NumberChanges;
  readonly overrides?: Overrides;
  readonly way?: "pieces" | "laced";
  readonly corner?: "pointed" | "round";
  readonly measured: number;
  readonly limit: number;
  readonly count: number;
  /** What the remedies change, in their order. */
  readonly changes: readonly string[];
}

const TAN_22 = Math.tan(Math.PI / 8);
/** Radius of every bend of a round corner cell at a pitch of 16: half a pitch / (1 + tan 22.5 degrees) = 5.657 mm. */
const ROUND_BEND = PITCH / 2 / (1 + TAN_22);

const CASES: readonly Case[] = [
  {
    // The ground at a crossing: gap - clearance. An under-strand ends at both sides of each of 4 crossings.
    rule: "web-at-crossings",
    panel: plainPanel(2, 2),
    overrides: { gapMm: 1.5 },
    measured: 1.55,
    limit: 2,
    count: 8,
    changes: ["gap", "thicknessMm"],
  },
  {
    rule: "web-at-crossings",
    panel: plainPanel(2, 2),
    numbers: { gapPerPitch: 0.08, thicknessMm: 1.5 },
    measured: 0.08 * PITCH + 0.05,
    limit: 1.5,
    count: 8,
    changes: ["gap", "pitch"],
  },
  {
    // Lanes half a pitch apart: 8 - 6.5 - clearance. The same inside each loop, whose lanes lie as far apart.
    rule: "web-beside",
    panel: TWO_LOOPS,
    overrides: { widthMm: 6.5 },
    measured: 1.55,
    limit: 2,
    count: 3,
    changes: ["width", "pitch", "thicknessMm"],
  },
  {
    rule: "web-beside",
    panel: TWO_LOOPS,
    numbers: { widthPerPitch: 0.42 },
    measured: 8 - 0.42 * PITCH + 0.05,
    limit: 2,
    count: 3,
    changes: ["width", "pitch"],
  },
  {
    // The part is narrower than its ribbon by half a clearance on both sides: 2.5 + 0.05.
    rule: "ribbon-width",
    panel: plainPanel(2, 2),
    overrides: { widthMm: 2.5 },
    measured: 2.55,
    limit: 3,
    count: 1,
    changes: ["width"],
  },
  {
    rule: "ribbon-width",
    panel: plainPanel(2, 2),
    numbers: { widthPerPitch: 0.15, clearancePerSideMm: 0.1 },
    measured: 0.15 * PITCH - 0.1,
    limit: 3,
    count: 1,
    changes: ["width", "pitch"],
  },
  {
    // Three bends at each of the four corners: two eighth turns and a quarter turn.
    rule: "bend-radius",
    panel: plainPanel(2, 2),
    corner: "round",
    overrides: { widthMm: 11 },
    measured: ROUND_BEND - 5.5,
    limit: 0.3,
    count: 12,
    changes: ["width", "pitch"],
  },
  {
    // No limit of the profile, but the paths lie (0.9 + 0.05) / 2 mm beside the ribbon's edge.
    rule: "bend-radius",
    panel: plainPanel(2, 2),
    corner: "round",
    numbers: { kerfMm: 0.9, easeRadiusMm: 1 },
    overrides: { widthMm: 10.5 },
    measured: ROUND_BEND - 5.25,
    limit: 0.475,
    count: 12,
    changes: ["width", "pitch"],
  },
  {
    // (kerf - clearance) / 2 = 0.125: each of the 4 parts has sharper corners.
    rule: "corner-easing",
    panel: plainPanel(2, 2),
    numbers: { easeRadiusMm: 0.05 },
    measured: 0.05,
    limit: 0.125,
    count: 4,
    changes: ["easeRadiusMm"],
  },
  {
    // Inside a round bend of 5.657 mm an under-strand ends on an arc less by half the ribbon and the gap: 2.4 and 3.2.
    // The paths lie (0.35 + 0.2) / 2 beside it. The panel has one crossing, both of whose strands are one.
    rule: "corner-easing",
    panel: ["  + + +", "   o-o", "+ + +-+", " o   o", "+ + +x+", "   o-o", "  + + +"],
    corner: "round",
    numbers: { kerfMm: 0.35, clearancePerSideMm: -0.2, gapPerPitch: 0.2 },
    measured: ROUND_BEND - 2.4 - 3.2,
    limit: 0.275,
    count: 1,
    changes: ["gap"],
  },
  {
    // The square of ground in the loop: 8 - 4.8 mm a side, its four corners eased by 0.3 mm.
    rule: "smallest-part",
    panel: ONE_LOOP,
    measured: (8 - 4.8) ** 2 - (4 - Math.PI) * 0.3 ** 2,
    limit: 20,
    count: 1,
    changes: ["pitch"],
  },
  {
    // Centrelines 6 x 16 - 8 mm, the ribbon 4.8, two borders of 12, and the beam's path half a kerf outside.
    rule: "machine-bed",
    panel: plainPanel(6, 4),
    numbers: { bedWidthMm: 100 },
    measured: 88 + 4.8 + 24 + 0.2 - 100,
    limit: 0,
    count: 1,
    changes: ["size"],
  },
  {
    // The panel fits; its one part does too (40 + 4.8 + 2 x 0.125), but not under the sheet's heading (3.6 and 3 mm below it).
    rule: "machine-bed",
    panel: plainPanel(3, 3),
    way: "laced",
    numbers: { borderMm: 0, borderRadiusMm: 0, bedHeightMm: 50 },
    measured: 40 + 4.8 + 0.25 + 6.6 - 50,
    limit: 0,
    count: 1,
    changes: ["size"],
  },
];

const offered = new Set<string>();

function expectRemedies(
  rule: string,
  panel: readonly string[],
  profile: ReturnType<typeof leatherProfile>,
  overrides: Overrides,
): void {
  const design = panelDesign(panel, PITCH);
  for (const remedy of checkOf(prepared(design, profile, overrides), rule).remedies) {
    offered.add(`${rule}: ${remedy.change}`);
    const changed = applyRemedy({ profile, overrides }, remedy);
    const again = checkOf(prepared(design, changed.profile, changed.overrides), rule);
    expect([remedy.text, again.verdict]).toEqual([remedy.text, "pass"]);
  }
}

test.each(CASES)("$rule: $measured against $limit", (wanted) => {
  const { rule, panel, numbers = {}, overrides = {}, way = "pieces", corner = "pointed" } = wanted;
  const profile = leatherProfile(numbers, { way, corner });
  const check = checkOf(prepared(panelDesign(panel, PITCH), profile, overrides), rule);
  expect(check.verdict).toBe("fail");
  expect(check.measured).toBeCloseTo(wanted.measured, 4);
  expect(check.limit).toBeCloseTo(wanted.limit, 9);
  expect(check.count).toBe(wanted.count);
  expect(check.remedies.map(({ change }) => change)).toEqual(wanted.changes);
  for (const { text } of check.remedies) expect(text).toMatch(/\d/);
  expectRemedies(rule, panel, profile, overrides);
});

test("webs at crossings are named in the middle of the gap", () => {
  const job = prepared(panelDesign(plainPanel(2, 2), PITCH), leatherProfile(), { gapMm: 1.5 });
  // Sites (row, column) of the crossings; the lowest centreline lies 4 mm in, and 2.4 + 12 mm from the finished edge.
  const sites = [
    [1, 2],
    [2, 1],
    [2, 3],
    [3, 2],
  ] as const;
  const crossings = sites.map(([row, column]) => ({ x: column * 8 + 10.4, y: (4 - row) * 8 + 10.4 }));
  for (const { x, y } of checkOf(job, "web-at-crossings").places) {
    const nearest = Math.min(...crossings.map((crossing) => Math.hypot(x - crossing.x, y - crossing.y)));
    // Half the ribbon and half the gap away, and up to half a ribbon to the side; both ribbons bend a little.
    expect(nearest).toBeGreaterThan(2.4 + 0.75 - 0.5);
    expect(nearest).toBeLessThan(Math.hypot(2.4 + 0.75, 2.4) + 0.5);
  }
});

test("a ribbon that is too wide for its room is told, and how wide it may be", () => {
  const profile = leatherProfile();
  for (const overrides of [{ widthMm: 10 }, { widthMm: 6, gapMm: 6 }]) {
    const job = prepared(panelDesign(plainPanel(3, 3), PITCH), profile, overrides);
    const check = checkOf(job, "ribbon-room");
    expect(check.verdict).toBe("fail");
    expect(check.count).toBeGreaterThan(0);
    expect(check.remedies.length).toBeGreaterThan(0);
    expectRemedies("ribbon-room", plainPanel(3, 3), profile, overrides);
  }
});

test("corners with sides too short for their easing are told", () => {
  const profile = leatherProfile({ easeRadiusMm: 3 });
  const check = checkOf(prepared(panelDesign(plainPanel(2, 2), PITCH), profile), "corner-easing");
  expect(check).toMatchObject({ verdict: "fail", measured: 0 });
  expectRemedies("corner-easing", plainPanel(2, 2), profile, {});
});

test("tips of a lattice that is far from square are told by their angle", () => {
  const profile = leatherProfile({ easeRadiusMm: 0, kerfMm: 0.05 });
  const overrides = { pitchMm: { across: 8, down: 30 } };
  const job = prepared(panelDesign(plainPanel(3, 2), PITCH), profile, overrides);
  const check = checkOf(job, "sharp-points");
  const tips = job.job.parts.parts.flatMap(({ nominal }) => cornerAngles(polygonOf(nominal.outline)));
  expect(check.verdict).toBe("fail");
  // Chords of 0.0002 mm error turn the sides of a tip by less than a degree.
  expect(Math.abs((check.measured ?? 0) - Math.min(...tips))).toBeLessThan(1);
  expect(check.count).toBe(tips.filter((angle) => angle < 35).length);
  // Where the ribbons run straight their tips have the diagonals' angle, 2 atan(8/30); bends take some of it.
  expect(check.measured).toBeLessThan((2 * Math.atan(8 / 30) * 180) / Math.PI);
  expectRemedies("sharp-points", plainPanel(3, 2), profile, overrides);
});

/** Degrees inside or outside, whichever is sharper, at every corner of a polygon. */
function cornerAngles(polygon: readonly { readonly x: number; readonly y: number }[]): number[] {
  return polygon.map((corner, i) => {
    const before = polygon.at(i - 1) ?? corner;
    const after = polygon[(i + 1) % polygon.length] ?? corner;
    const [ax, ay, bx, by] = [
      before.x - corner.x,
      before.y - corner.y,
      after.x - corner.x,
      after.y - corner.y,
    ];
    return (Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by)) * 180) / Math.PI;
  });
}

test("ground that falls out of a loop is a warning", () => {
  const check = checkOf(prepared(panelDesign(TWO_LOOPS, PITCH)), "loose-ground");
  expect(check).toMatchObject({ verdict: "warning", measured: 2, count: 2 });
  expect(checkOf(prepared(panelDesign(plainPanel(2, 2), PITCH)), "loose-ground").verdict).toBe("pass");
});

test("a kerf that nobody measured is a warning until it is given", () => {
  const check = checkOf(prepared(panelDesign(plainPanel(2, 2), PITCH)), "kerf-measured");
  expect(check).toMatchObject({ verdict: "warning", measured: 0 });
  expectRemedies("kerf-measured", plainPanel(2, 2), leatherProfile(), {});
});

test("with everything in order all checks pass", () => {
  const job = prepared(panelDesign(plainPanel(3, 2), 18), leatherProfile({}, { kerfMeasured: true }));
  expect(job.job.checks.filter(({ verdict }) => verdict !== "pass")).toEqual([]);
});

test("every remedy that the product knows was taken up above", () => {
  expect([...offered].sort()).toEqual([
    "bend-radius: pitch",
    "bend-radius: width",
    "corner-easing: easeRadiusMm",
    "corner-easing: gap",
    "corner-easing: pitch",
    "kerf-measured: kerf",
    "machine-bed: size",
    "ribbon-room: gap",
    "ribbon-room: pitch",
    "ribbon-room: width",
    "ribbon-width: pitch",
    "ribbon-width: width",
    "sharp-points: pitch",
    "smallest-part: pitch",
    "web-at-crossings: gap",
    "web-at-crossings: pitch",
    "web-at-crossings: thicknessMm",
    "web-beside: pitch",
    "web-beside: thicknessMm",
    "web-beside: width",
  ]);
});
