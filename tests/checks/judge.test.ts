import { expect, test } from "vitest";
import { LIMIT_SLACK_MM } from "../../src/base/tolerance.ts";
import { atLeast, atMost, LeastFinder, type Rule } from "../../src/checks/judge.ts";

const RULE: Rule = { rule: "web", title: "Web", limit: 2, unit: "mm", note: "" };
const REMEDY = { change: "gap", value: 2, text: "gap 2 mm" };

function found(...values: readonly number[]) {
  const finder = new LeastFinder(RULE.limit);
  for (const [x, value] of values.entries()) finder.add(value, { x, y: 0 });
  return finder.finding;
}

test("the worst value counts, and every place that falls short, the worst first", () => {
  const check = atLeast(RULE, found(3, 1.5, 2.5, 1), () => [REMEDY]);
  expect(check).toMatchObject({ verdict: "fail", measured: 1, limit: 2, sense: "least", count: 2 });
  expect(check.places).toEqual([
    { x: 3, y: 0 },
    { x: 1, y: 0 },
  ]);
  expect(check.remedies).toEqual([REMEDY]);
});

test("remedies are worked out from the worst value, and only on failure", () => {
  const asked: number[] = [];
  const remedies = (worst: number) => {
    asked.push(worst);
    return [];
  };
  atLeast(RULE, found(1.25), remedies);
  atLeast(RULE, found(2.25), remedies);
  expect(asked).toEqual([1.25]);
});

test.each([
  [2 - LIMIT_SLACK_MM / 2, "pass"],
  [2 - LIMIT_SLACK_MM * 2, "fail"],
])("at least 2: %s is a %s", (value, verdict) => {
  const check = atLeast(RULE, found(value), () => []);
  expect([check.verdict, check.count, check.places.length]).toEqual(
    verdict === "pass" ? ["pass", 0, 0] : ["fail", 1, 1],
  );
});

test.each([
  [2 + LIMIT_SLACK_MM / 2, "pass"],
  [2 + LIMIT_SLACK_MM * 2, "fail"],
])("at most 2: %s is a %s", (value, verdict) => {
  expect(atMost(RULE, { worst: value, short: [] }, () => []).verdict).toBe(verdict);
});

test("nothing to measure passes, and says so", () => {
  expect(atLeast(RULE, found(), () => [])).toMatchObject({ verdict: "pass", measured: null });
});

test("of very many places the count is told, and some are named", () => {
  const check = atLeast(RULE, found(...Array.from({ length: 1000 }, (_, i) => 1 + i / 2000)), () => []);
  expect(check.count).toBe(1000);
  expect(check.places.length).toBeLessThanOrEqual(20);
  expect(check.places[0]).toEqual({ x: 0, y: 0 });
});
