import { describe, expect, test } from "vitest";
import type { CheckResult, Remedy } from "../../../src/checks/check.ts";
import { groundRegion } from "../../../src/crafts/router/ground.ts";
import { checkGround } from "../../../src/crafts/router/ground-checks.ts";
import { planReach, REACH_ERROR_MM } from "../../../src/crafts/router/reach.ts";
import { layPanel } from "../../../src/crafts/router/router-panel.ts";
import type { GroundSettings, LoadedCutter } from "../../../src/crafts/router/settings.ts";
import { measureStanding } from "../../../src/crafts/router/standing-width.ts";
import { type ArcChain, polyline, segmentsOf } from "../../../src/geometry/arc-chain.ts";
import { nearestOn } from "../../../src/geometry/meet.ts";
import { distance } from "../../../src/geometry/point.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { groundSettings, MILL_1, MILL_3, MILL_6, sampleCutter, V_60 } from "./sample-settings.ts";

function checked(settings: GroundSettings) {
  const { pitchMm } = settings.ribbon;
  const { diagram, strands } = wovenPanel(plainPanel(2, 2), "Z", { pitchMm, corner: "pointed" });
  const panel = layPanel(diagram, strands, settings);
  const plan = planReach(groundRegion(panel, settings), settings.cutters, settings.cornerLeftMm);
  return { plan, checks: checkGround(panel, plan, settings) };
}

function find(checks: readonly CheckResult[], rule: string): CheckResult {
  const found = checks.find((check) => check.rule === rule);
  if (!found) throw new Error(`no check ${rule} among ${checks.map((check) => check.rule).join(", ")}`);
  return found;
}

const failed = (settings: GroundSettings) =>
  checked(settings)
    .checks.filter(({ verdict }) => verdict !== "pass")
    .map(({ rule, verdict }) => `${rule}: ${verdict}`);

const ribbon = (changes: Partial<GroundSettings["ribbon"]>): GroundSettings["ribbon"] => ({
  ...groundSettings().ribbon,
  ...changes,
});

function mill(diameterMm: number): LoadedCutter {
  return { ...MILL_1, shape: { kind: "end-mill", diameterMm } };
}

/** As the command line and the profile would. */
function applied(settings: GroundSettings, { change, value }: Remedy): GroundSettings {
  const number = typeof value === "number" ? value : 0;
  switch (change) {
    case "gap":
      return { ...settings, ribbon: { ...settings.ribbon, gapMm: number } };
    case "width":
      return { ...settings, ribbon: { ...settings.ribbon, widthMm: number } };
    case "pitch": {
      const { pitchMm, widthMm, gapMm, widthFixed, gapFixed } = settings.ribbon;
      const factor = number / pitchMm.across;
      return {
        ...settings,
        ribbon: {
          pitchMm: { across: number, down: number },
          widthMm: widthFixed ? widthMm : widthMm * factor,
          gapMm: gapFixed ? gapMm : gapMm * factor,
          widthFixed,
          gapFixed,
        },
      };
    }
    case "cutter":
      return { ...settings, cutters: [...settings.cutters, mill(number)] };
    default:
      return { ...settings, [change]: number };
  }
}

function expectRemedies(settings: GroundSettings, rule: string, changes: readonly string[]): void {
  const { remedies, verdict } = find(checked(settings).checks, rule);
  expect(verdict).not.toBe("pass");
  expect(remedies.map(({ change }) => change)).toEqual(changes);
  for (const remedy of remedies)
    expect([remedy.text, find(checked(applied(settings, remedy)).checks, rule).verdict]).toEqual([
      remedy.text,
      "pass",
    ]);
}

test("a panel with room passes everything", () => {
  expect(failed(groundSettings())).toEqual([]);
});

describe("cutters that do not get in", () => {
  // Channels at crossings are 1.2 mm wide.
  const settings = groundSettings({ cutters: [MILL_6, MILL_3, V_60] });

  test("places lie in the ground that is left, and remedies have numbers that work", () => {
    const { checks, plan } = checked(settings);
    const reach = find(checks, "cutter-reach");
    expect(reach.count).toBeGreaterThan(4);
    expect(plan.missed.every(({ kind }) => kind === "channel")).toBe(true);
    // On a wall of the channel, in the middle of its length.
    for (const { region, at } of plan.missed) {
      const walls = region.rings.flatMap((ring) => segmentsOf(polyline(ring, true)));
      expect(Math.min(...walls.map((wall) => distance(nearestOn(wall, at), at)))).toBeLessThan(1e-6);
    }
    // The channel less the error of finding it, in steps of 0.05 mm, less the tolerance of 0.02 on both sides.
    expect(reach.remedies.find(({ change }) => change === "cutter")?.value).toBe(1.11);
    expectRemedies(settings, "cutter-reach", ["cutter", "gap", "pitch"]);
  });

  test("channels at crossings are as wide as the gap, and must be wider than the cutter by the tolerances", () => {
    const { checks } = checked(settings);
    const channel = find(checks, "channel-at-crossings");
    expect(channel.measured).toBeCloseTo(1.2, 6);
    expect(channel.limit).toBeCloseTo(3 + 2 * 0.02, 9);
    expectRemedies(settings, "channel-at-crossings", ["gap", "pitch", "cutter"]);
  });

  test("a gap that just lets the cutter in but leaves no tolerance", () => {
    const tight = groundSettings({ ribbon: ribbon({ gapMm: 1.02 }) });
    expect(failed(tight)).toEqual(["channel-at-crossings: fail"]);
  });

  test("ribbons beside each other: narrower ones let the cutter in", () => {
    // Diagonals lie pitch / sqrt 2 apart.
    const wide = groundSettings({ cutters: [MILL_3], ribbon: ribbon({ widthMm: 7 }) });
    expect(find(checked(wide).checks, "channel-beside").measured).toBeCloseTo(14 / Math.SQRT2 - 7, 6);
    expectRemedies(wide, "channel-beside", ["width", "pitch", "cutter"]);
  });

  test("no remedy by losing ribbons: without them nothing is said to be reached", () => {
    // 7.4 + 2 x 3.2 mm do not fit between diagonals 9.9 mm apart.
    const { checks } = checked(groundSettings({ ribbon: ribbon({ widthMm: 7.4, gapMm: 3.2 }) }));
    const { verdict, remedies, count } = find(checks, "cutter-reach");
    expect([verdict, remedies.length, count > 0]).toEqual(["fail", 0, true]);
  });

  test("no end mill at all", () => {
    expect(failed(groundSettings({ cutters: [V_60] }))).toEqual(["end-mill: fail"]);
  });
});

test("inner corners keep r (1/sin a - 1)", () => {
  const settings = groundSettings({
    outline: "rectangle",
    ribbon: ribbon({ gapMm: 3.5 }),
    cutters: [MILL_3],
    cornerLeftMm: 0.5,
  });
  const { checks, plan } = checked(settings);
  expect(find(checks, "corner-left").verdict).toBe("fail");
  // The field's own corner, 5 mm inside the panel's: half-angle 45 degrees, 1.5 (sqrt 2 - 1) mm.
  const ofField = plan.missed.find(({ at }) => Math.hypot(at.x - 5, at.y - 5) < 0.01);
  expect(Math.abs((ofField?.depthMm ?? 0) - 1.5 * (Math.SQRT2 - 1))).toBeLessThanOrEqual(
    REACH_ERROR_MM + 1e-3,
  );
  expectRemedies(settings, "corner-left", ["cutter", "cornerLeftMm"]);
});

describe("standing width and grain", () => {
  const rule = { grain: "across", leastAlongGrainMm: 2, leastAcrossGrainMm: 6 } as const;
  const line = (x: number, y: number): ArcChain => ({
    closed: false,
    vertices: [
      { x: 0, y: 0, bulge: 0 },
      { x, y, bulge: 0 },
    ],
  });
  // Along 2 cos^2, across 6 sin^2: at 45 degrees 4, at 30 degrees 3.
  test.each([
    ["along the grain", line(5, 0), "across", 2],
    ["backwards along it", line(-5, 0), "across", 2],
    ["across the grain", line(0, -5), "across", 6],
    ["up, where the grain runs up", line(0, 5), "up", 2],
    ["right, where the grain runs up", line(5, 0), "up", 6],
    ["at 45 degrees", line(-3, 3), "across", 4],
    ["at 30 degrees", line(Math.sqrt(3), 1), "across", 3],
    ["no grain", line(0, 5), "none", 2],
  ] as const)("%s", (_, chain, grain, needed) => {
    expect(measureStanding([chain], 1, { ...rule, grain }).limitMm).toBeCloseTo(needed, 9);
  });

  test("a bend counts where it runs steepest", () => {
    // A half circle from going right to going left runs straight up in its middle.
    const bend: ArcChain = {
      closed: false,
      vertices: [
        { x: 0, y: 0, bulge: 1 },
        { x: 0, y: 8, bulge: 0 },
      ],
    };
    expect(measureStanding([bend], 1, rule).limitMm).toBeCloseTo(6, 9);
    // A sixth of a turn that begins along the grain ends at 60 degrees: 2/4 + 6 x 3/4.
    const part: ArcChain = {
      closed: false,
      vertices: [
        { x: 0, y: 0, bulge: Math.tan(Math.PI / 12) },
        { x: Math.sin(Math.PI / 3), y: 0.5, bulge: 0 },
      ],
    };
    expect(measureStanding([part], 1, rule).limitMm).toBeCloseTo(5, 9);
  });

  test("a ribbon that is too narrow, and its remedies", () => {
    expectRemedies(groundSettings({ leastAcrossGrainMm: 6 }), "standing-width", ["width", "pitch"]);
  });
});

describe("board, cutters and machine", () => {
  const machine = groundSettings().machine;
  test.each([
    ["floor-left", { groundDepthMm: 3, stockThicknessMm: 8 }, 5, 6, ["groundDepthMm", "stockThicknessMm"]],
    ["flute-length", { groundDepthMm: 5, cutters: [MILL_6, MILL_1] }, 4, 5, ["groundDepthMm"]],
    ["slender-cutter", { groundDepthMm: 3.5 }, 3.5, 3, ["groundDepthMm"]],
    [
      "machine-height",
      { machine: { ...machine, travelMm: { x: 600, y: 400, z: 25 } } },
      28,
      25,
      ["clearanceMm"],
    ],
  ] as const)("%s", (rule, changes, measured, limit, remedies) => {
    const settings = groundSettings(changes);
    const check = find(checked(settings).checks, rule);
    expect([check.measured, check.limit]).toEqual([measured, limit]);
    expectRemedies(settings, rule, remedies);
  });

  test("a cutter that takes too much in a pass", () => {
    const greedy = { ...sampleCutter(8, { kind: "end-mill", diameterMm: 1 }), stepDownMm: 1.5 };
    expect(failed(groundSettings({ cutters: [MILL_6, MILL_3, greedy] }))).toEqual(["step-down: warning"]);
  });

  test("a panel that is larger than the machine, with the cutter outside", () => {
    const settings = groundSettings({ machine: { ...machine, travelMm: { x: 46, y: 400, z: 80 } } });
    const travel = find(checked(settings).checks, "machine-travel");
    // 2 cells of 14 mm, less half a pitch at the centrelines, a ribbon of 4 and borders of 12: 49 mm, and 6 round it.
    expect(travel.measured).toBeCloseTo(49 + 6 - 46, 6);
    expect(travel.remedies.map(({ change, value }) => [change, value])).toEqual([["size", "40x49"]]);
  });
});

test("ribbons without room are told with places", () => {
  const { checks } = checked(groundSettings({ ribbon: ribbon({ widthMm: 11 }) }));
  const room = find(checks, "ribbon-room");
  expect(room.verdict).toBe("fail");
  expect(room.remedies.map(({ change }) => change)).toEqual(["width", "gap"]);
});
