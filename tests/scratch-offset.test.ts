import fc from "fast-check";
import { test } from "vitest";
import { segmentsOf, signedArea } from "../src/geometry/arc-chain.ts";
import { offsetChain } from "../src/geometry/offset.ts";
import { nearestOn } from "../src/geometry/meet.ts";
import { distance } from "../src/geometry/point.ts";
import { selfMeets } from "../src/geometry/self-meets.ts";
import { areaOf, differenceArea, grow, polygonOf } from "./support/polygon-oracle.ts";
import { samplesOf } from "./support/chorded.ts";
import { starChain } from "./support/random-chain.ts";
test("fuzz", () => {
  const N = Number(process.env["N"] ?? 1000);
  const kinds = new Map<string, number>();
  const ex = new Map<string, string>();
  const note = (k: string, e: unknown) => { kinds.set(k, (kinds.get(k) ?? 0) + 1); if (!ex.has(k)) ex.set(k, JSON.stringify(e)); };
  let splits = 0, vanish = 0;
  for (const [chain, left, join] of fc.sample(fc.tuple(starChain(), fc.oneof(fc.double({ min: -3, max: -0.05, noNaN: true }), fc.double({ min: 0.05, max: 5, noNaN: true })), fc.constantFrom("round" as const, "pointed" as const)), { numRuns: N, seed: Number(process.env["SEED"] ?? 1) })) {
    let res;
    try { res = offsetChain(chain, left, join); } catch (e) { note("throws", { chain, left, join, e: String(e) }); continue; }
    if (res.length > 1) splits++; if (res.length === 0) vanish++;
    const src = segmentsOf(chain);
    const poly = polygonOf(chain);
    if (join === "round") {
      const want = grow([poly], -left, join);
      const got = res.map(polygonOf);
      const d = differenceArea(got, want);
      if (d > 0.05) note("xor", { chain, left, join, d, got: areaOf(got), want: areaOf(want), n: res.length });
    }
    for (const c of res) {
      if (!c.closed) note("open", { chain, left, join });
      if (selfMeets(segmentsOf(c), true).length > 0) note("selfmeet", { chain, left, join, m: selfMeets(segmentsOf(c), true) });
      const as = segmentsOf(c);
      if (as.some((s) => ![s.from.x, s.from.y, s.bulge].every(Number.isFinite))) note("nan", { chain, left, join });
      if (as.some((s) => Math.abs(s.bulge) > 1)) note("bulge>1", { chain, left, join });
      for (const p of samplesOf(c, 5)) {
        const d = Math.min(...src.map((s) => distance(nearestOn(s, p), p)));
        if (d < Math.abs(left) - 2e-6) { note("near", { chain, left, join, d }); break; }
        if (join === "round" && d > Math.abs(left) + 2e-6) { note("far", { chain, left, join, d }); break; }
      }
    }
  }
  console.log(N, "splits", splits, "vanish", vanish, kinds, [...ex].map(([k, v]) => k + ": " + v).join("\n"));
});
