import fc from "fast-check";
import { expect, test } from "vitest";
import { type SewUnits, sectionsBeneath, sewUnits, unitAt } from "../../../src/crafts/stitch/units.ts";
import { crossingCount } from "../../../src/diagram/knot-diagram.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { randomPanel } from "../../support/random-panel.ts";
import { plainColumn } from "./plain-column.ts";
import { sampleSatin } from "./sample-settings.ts";
import { sewnPanel } from "./sewn-panel.ts";

const SETTINGS = sampleSatin();

function kinds({ list }: SewUnits): readonly string[] {
  return list.map(({ kind, first, last }) => `${kind} ${first}-${last}`);
}

test("a patch reaches from the last rung before its stretch to the first one behind it", () => {
  // Rungs at 0, 1 … 10 mm; the stretch from 4.5 to 6 lies between rungs 4 and 6.
  const over = [{ crossing: 0, fromMm: 4.5, toMm: 6 }];
  const column = plainColumn({ lengthMm: 10, widthMm: 3, rungs: 11, ends: [0, 0], over });
  expect(kinds(sewUnits([column], SETTINGS))).toEqual(["section 0-3", "patch 4-6", "section 7-10"]);
});

test("every unit keeps a rung where its stretches leave none", () => {
  const over = [{ crossing: 0, fromMm: -1, toMm: 12 }];
  const column = plainColumn({ lengthMm: 10, widthMm: 3, rungs: 5, ends: [0, 0], over });
  expect(kinds(sewUnits([column], SETTINGS))).toEqual(["section 0-0", "patch 1-3", "section 4-4"]);
});

test("a column that crosses nothing is one unit", () => {
  const units = sewUnits([plainColumn({ lengthMm: 10, widthMm: 3, rungs: 11 })], SETTINGS);
  expect(kinds(units)).toEqual(["ring 0-10"]);
  expect(units.list[0]?.joints).toEqual([]);
});

test("a closed column that only passes over begins with a patch and goes round", () => {
  // A square of 4 x 10 mm with a rung every millimetre.
  const corners = [
    [0, 0],
    [10, 0],
    [10, 10],
    [0, 10],
  ] as const;
  const column = {
    ...plainColumn({ lengthMm: 39, widthMm: 2, rungs: 40 }),
    centreline: { closed: true, vertices: corners.map(([x, y]) => ({ x, y, bulge: 0 })) },
    over: [
      { crossing: 0, fromMm: 4, toMm: 6 },
      { crossing: 1, fromMm: 34, toMm: 36 },
    ],
  };
  const units = sewUnits([column], SETTINGS);
  // The last section runs past rung 39 to rung 43, which is rung 3 again.
  expect(kinds(units)).toEqual(["patch 4-6", "section 7-33", "patch 34-36", "section 37-43"]);
  expect(units.list[3]?.joints).toEqual([
    { unit: 2, port: 1 },
    { unit: 0, port: 0 },
  ]);
});

function expectSound(units: SewUnits, crossings: number): void {
  const patches = units.list.filter(({ kind }) => kind === "patch");
  expect(patches.length).toBe(crossings);
  // Two half-strands end beneath each patch.
  for (const patch of patches) expect(sectionsBeneath(patch).length).toBe(2);
  for (const [number, unit] of units.list.entries()) {
    for (const [port, joint] of unit.joints.entries())
      expect(unitAt(units, joint.unit).joints[joint.port]).toEqual({ unit: number, port });
  }
  for (const [column, { rungs }] of units.columns.entries()) {
    const times = new Array<number>(rungs.length).fill(0);
    for (const unit of units.list) {
      if (unit.column !== column) continue;
      for (let i = unit.first; i <= unit.last; i++)
        times[i % rungs.length] = (times[i % rungs.length] ?? 0) + 1;
    }
    expect(new Set(times)).toEqual(new Set([1]));
  }
}

test("every rung is in one unit, every joint is one from both sides", () => {
  for (const corner of ["pointed", "round"] as const) {
    const { order, diagram } = sewnPanel(plainPanel(3, 2), { corner });
    expectSound(order.units, crossingCount(diagram));
  }
  fc.assert(
    fc.property(randomPanel(4), (rows) => {
      const { order, diagram } = sewnPanel(rows);
      expectSound(order.units, crossingCount(diagram));
    }),
    { numRuns: 12 },
  );
});
