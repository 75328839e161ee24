import { test } from "vitest";
import { type ArcChain, type Vertex } from "../src/geometry/arc-chain.ts";
import { offsetChain } from "../src/geometry/offset.ts";
import { parsePanel } from "../src/lattice/panel.ts";
import { panelDiagram } from "../src/lattice/panel-diagram.ts";
import { findFaces } from "../src/diagram/faces.ts";
import { findStrands } from "../src/diagram/strands.ts";
import { weave } from "../src/diagram/weave.ts";
import { makeRibbons } from "../src/ribbon/ribbon.ts";
import { plainPanel } from "./support/plain-panel.ts";
const gear = (n: number): ArcChain => ({ closed: true, vertices: Array.from({ length: n }, (_, i): Vertex => { const a = (2 * Math.PI * i) / n; const r = n / 10 + (i % 2); return { x: r * Math.cos(a), y: r * Math.sin(a), bulge: 0 }; }) });
test("perf", () => {
  for (const d of [0.1, -0.1, 1, -1]) { const t = performance.now(); const r = offsetChain(gear(20000), d, "round"); console.log("gear 20000", d, r.length, (performance.now() - t).toFixed(0), "ms"); }
  for (const n of [224]) {
    const p = parsePanel(plainPanel(n, n), []); if (!p.ok) throw new Error();
    const t0 = performance.now();
    const d0 = panelDiagram(p.value, { pitchMm: { across: 10, down: 10 }, corner: "pointed" });
    const f = findFaces(d0); const d = weave(d0, f, "Z"); const s = findStrands(d);
    const t = performance.now();
    const r = makeRibbons(d, s, { widthMm: 3, gapMm: 0.6 });
    console.log(n, d.x.length, r.pieces.length, r.troubles.length, "diagram", (t - t0).toFixed(0), "ribbons", (performance.now() - t).toFixed(0));
  }
});
