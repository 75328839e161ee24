/** One size, stage by stage, in a process of its own so that its peak memory is its own; prints JSON. */
import { readFileSync } from "node:fs";
import { measureBends } from "../../src/checks/bends.ts";
import { measurePoints } from "../../src/checks/points.ts";
import { measureSpacing } from "../../src/checks/spacing.ts";
import { readFonts } from "../../src/cli/read-fonts.ts";
import { plainPanel } from "../../src/documents/draft-design.ts";
import { makeJobFiles } from "../../src/documents/job-files.ts";
import { prepareJob } from "../../src/documents/prepare-job.ts";
import { parseProfile } from "../../src/documents/profile.ts";
import { weavePanel } from "../../src/documents/woven-design.ts";
import { parsePanel } from "../../src/lattice/panel.ts";
import { makeRibbons } from "../../src/ribbon/ribbon.ts";
import { genericRibbons } from "./generic-ribbons.ts";

const cells = Number(process.argv[2]);
const withGeneric = process.argv[3] === "generic";
const whole = process.argv[3] === "convert";

const PITCH = 16;
const SIZE = { widthMm: 0.3 * PITCH, gapMm: 0.14 * PITCH };

const timesMs: Record<string, number> = {};
function timed<T>(stage: string, work: () => T): T {
  const start = performance.now();
  const value = work();
  timesMs[stage] = performance.now() - start;
  return value;
}

const rows = plainPanel(cells, cells);
let crossings = 0;
let pieces = 0;
if (whole) {
  const url = new URL("../../../profiles/leather-inlay.json", import.meta.url);
  const profile = parseProfile(readFileSync(url, "utf8"), "leather-inlay.json");
  if (!profile.ok) throw new Error("the profile does not read");
  const design = { pitchMm: { across: PITCH, down: PITCH }, ribbon: {}, panel: rows, hand: "Z" as const };
  const prepared = timed("prepare", () => prepareJob(design, "bench", profile.value));
  if (!prepared.ok) throw new Error("the panel does not convert");
  crossings = prepared.value.woven.diagram.x.length;
  pieces = prepared.value.job.counts["parts"] ?? 0;
  const made = timed("files", () =>
    makeJobFiles(prepared.value, {
      design: { file: "bench", sha256: "" },
      tool: { name: "bench", version: "" },
      extras: [],
      despiteChecks: true,
      sha256: () => "",
      fonts: readFonts,
    }),
  );
  if (made.files.length < 5) throw new Error("files are missing");
} else {
  const panel = timed("text", () => parsePanel(rows, []));
  if (!panel.ok) throw new Error("the panel does not read");
  const lattice = { pitchMm: { across: PITCH, down: PITCH }, corner: "pointed" as const };
  const { diagram, strands } = timed("diagram", () => weavePanel(panel.value, "Z", lattice));
  const ribbons = timed("ribbons", () => makeRibbons(diagram, strands, SIZE));
  timed("checks", () => {
    const parts = ribbons.pieces.map(({ outline, holes, ends, over }) => ({
      outlines: [outline, ...holes],
      ends,
      over,
    }));
    measureSpacing(parts, {
      limitMm: 2,
      takenMm: 0,
      crossingReachMm: SIZE.widthMm + 2 * SIZE.gapMm,
      crossingAt: (crossing) => ({ x: diagram.x[crossing] ?? 0, y: diagram.y[crossing] ?? 0 }),
    });
    measureBends(
      ribbons.pieces.map((piece) => piece.centreline),
      SIZE.widthMm,
      0.3,
    );
    measurePoints(
      ribbons.pieces.map((piece) => piece.outline),
      35,
    );
  });
  crossings = diagram.x.length;
  pieces = ribbons.pieces.length;
  if (withGeneric) {
    // Rounds of each in one process: the quickest is what the code costs once it is compiled.
    const rounds = [1, 2, 3, 4, 5, 6, 7, 8].map((round) => {
      timed(`ours ${round}`, () => makeRibbons(diagram, strands, SIZE));
      const whole = timed(`whole ${round}`, () => genericRibbons(ribbons, "whole-strands"));
      return Math.min(
        whole,
        timed(`next ${round}`, () => genericRibbons(ribbons, "next-pieces")),
      );
    });
    if (Math.min(...rounds) < pieces) throw new Error("the generic way lost ribbons");
  }
}
const peakMb = process.resourceUsage().maxRSS / 1e3;
process.stdout.write(`${JSON.stringify({ cells, crossings, pieces, timesMs, peakMb })}\n`);
