import { test } from "vitest";
import { segmentsOf, signedArea, type ArcChain } from "../src/geometry/arc-chain.ts";
import { offsetChain } from "../src/geometry/offset.ts";
import { meet, nearestOn } from "../src/geometry/meet.ts";
import { selfMeets } from "../src/geometry/self-meets.ts";
import { endDirection, parallelSegment, startDirection, segmentLength } from "../src/geometry/segment.ts";
import { distance, turnBetween } from "../src/geometry/point.ts";
import { samplesOf } from "./support/chorded.ts";
const cases = JSON.parse(process.env["CASES"] ?? "[]") as { chain: ArcChain; left: number; join: "round" | "pointed" }[];
test("dbg", () => {
  for (const { chain, left, join } of cases) {
    const src = segmentsOf(chain);
    const out = offsetChain(chain, left, join);
    console.log("left", left, "n", out.length, out.map(signedArea));
    for (const [i, s] of src.entries()) {
      const n = src[(i + 1) % src.length]!;
      const a = parallelSegment(s, left), b = parallelSegment(n, left);
      console.log(i, "len", segmentLength(s).toFixed(4), "b", s.bulge.toFixed(4), "turn", turnBetween(endDirection(s), startDirection(n)).toFixed(6), a && b ? JSON.stringify(meet(a, b)) : "vanish");
    }
    for (const c of out) {
      for (const [i, s] of segmentsOf(c).entries()) {
        const ds = samplesOf({ closed: false, vertices: [{ ...s.from, bulge: s.bulge }, { ...s.to, bulge: 0 }] }, 5).map((p) => Math.min(...src.map((q) => distance(nearestOn(q, p), p))));
        console.log("  out", i, segmentLength(s).toFixed(6), s.bulge.toFixed(5), ds.map((d) => (d - Math.abs(left)).toExponential(1)).join(" "));
      }
      console.log("  sm", JSON.stringify(selfMeets(segmentsOf(c), true)));
    }
  }
});
