/** Feeds, ridges and wood movement against published worked values (shared/checks/router.json). */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import { feedRate, scallopHeight, scallopStepOver, woodMovement } from "../../../src/crafts/router/rates.ts";
import { parseProfile } from "../../../src/documents/profile.ts";

const root = new URL("../../../", import.meta.url);

interface RouterValues {
  readonly feeds: readonly { rpm: number; flutes: number; chipLoadMm: number; feedMmPerMin: number }[];
  readonly scallops: readonly { radiusMm: number; stepOverMm: number; heightMm: number }[];
  readonly movements: readonly {
    widthMm: number;
    perPercent: number;
    changePercent: number;
    movementMm: number;
  }[];
  readonly coefficients: readonly { wood: string; perPercent: number; profile: string }[];
}

const VALUES = JSON.parse(readFileSync(new URL("shared/checks/router.json", root), "utf8")) as RouterValues;

test.each(VALUES.feeds)("feed at %o", ({ rpm, flutes, chipLoadMm, feedMmPerMin }) => {
  expect(feedRate(rpm, flutes, chipLoadMm)).toBeCloseTo(feedMmPerMin, 9);
});

test.each(VALUES.scallops)("scallop at %o", ({ radiusMm, stepOverMm, heightMm }) => {
  expect(scallopHeight(radiusMm, stepOverMm)).toBeCloseTo(heightMm, 5);
  // About s^2 / 8r, as the same calculators say: the next term of the series is (s / r)^2 / 16 of it.
  const rough = stepOverMm ** 2 / (8 * radiusMm);
  expect(Math.abs(heightMm / rough - 1)).toBeLessThan((stepOverMm / radiusMm) ** 2 / 14);
});

test("step-over and ridge are inverse to each other", () => {
  const radius = fc.double({ min: 0.2, max: 20, noNaN: true });
  fc.assert(
    fc.property(radius, fc.double({ min: 0.001, max: 0.9, noNaN: true }), (radiusMm, share) => {
      const heightMm = share * radiusMm;
      expect(scallopHeight(radiusMm, scallopStepOver(radiusMm, heightMm))).toBeCloseTo(heightMm, 9);
    }),
  );
});

test.each(VALUES.movements)("wood movement at %o", ({ widthMm, perPercent, changePercent, movementMm }) => {
  expect(woodMovement(widthMm, perPercent, changePercent)).toBeCloseTo(movementMm, 9);
});

test.each(VALUES.coefficients)("$profile moves as $wood", ({ perPercent, profile }) => {
  const read = (name: string) => readFileSync(new URL(`profiles/${name}.json`, root), "utf8");
  const parsed = parseProfile(read(profile), profile, (name) => ({
    ok: true,
    value: read(name),
    warnings: [],
  }));
  expect(parsed.ok && parsed.value.numbers["movementPerPercent"]?.value).toBe(perPercent);
});
