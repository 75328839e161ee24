/**
 * `npm run bench`: time and peak memory of each stage on square panels, growth per crossing,
 * and the same ribbons by generic means beside them. Ratios within one run are what counts:
 * absolute times are the machine's.
 */
import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";

interface Run {
  readonly cells: number;
  readonly crossings: number;
  readonly timesMs: Readonly<Record<string, number>>;
  readonly peakMb: number;
}

const stages = fileURLToPath(new URL("./stages.js", import.meta.url));
const job = fileURLToPath(new URL("./job.js", import.meta.url));
const compose = fileURLToPath(new URL("./compose.js", import.meta.url));

function once(cells: number, how: string): Run {
  return JSON.parse(execFileSync(process.execPath, [stages, `${cells}`, how], { encoding: "utf8" }));
}

/** The quickest of three runs: what the code needs when nothing else disturbs it. */
function best(cells: number, how: string): Run {
  const runs = [1, 2, 3].map(() => once(cells, how));
  return runs.reduce((a, b) => (total(b) < total(a) ? b : a));
}

function total({ timesMs }: Run): number {
  return Object.values(timesMs).reduce((sum, ms) => sum + ms, 0);
}

function line(cells: readonly (string | number)[]): void {
  const shown = cells.map((cell) => (typeof cell === "number" ? cell.toFixed(cell < 10 ? 2 : 0) : cell));
  process.stdout.write(`${shown.map((cell) => cell.padStart(12)).join("")}\n`);
}

process.stdout.write("Diagram, ribbons and checks (ms; quickest of three)\n");
line(["cells", "crossings", "text", "diagram", "ribbons", "checks", "together", "us/crossing", "peak MB"]);
const runs = [10, 23, 30, 72, 100, 220].map((cells) => best(cells, "plain"));
for (const run of runs) {
  const { text = 0, diagram = 0, ribbons = 0, checks = 0 } = run.timesMs;
  const all = total(run);
  line([
    `${run.cells}²`,
    `${run.crossings}`,
    text,
    diagram,
    ribbons,
    checks,
    all,
    (1000 * all) / run.crossings,
    run.peakMb,
  ]);
}
const perCrossing = (cells: number) => {
  const run = runs.find((one) => one.cells === cells);
  return run ? total(run) / run.crossings : Number.NaN;
};
process.stdout.write(
  `growth per crossing from 10^3 (23²) to 10^5 (220²): ${(perCrossing(220) / perCrossing(23)).toFixed(2)} (to reach: 1.5 at most)\n\n`,
);

process.stdout.write(
  "The same ribbons by generic means: widen, subtract the over-strand (whole, or only its next piece)\n",
);
line(["cells", "crossings", "ours", "whole", "ratio", "next piece", "ratio"]);
for (const cells of [10, 30, 72]) {
  const { crossings, timesMs } = once(cells, "generic");
  const quickest = (way: string) =>
    Math.min(...Object.entries(timesMs).flatMap(([stage, ms]) => (stage.startsWith(`${way} `) ? [ms] : [])));
  const ours = quickest("ours");
  const whole = quickest("whole");
  const next = quickest("next");
  line([`${cells}²`, `${crossings}`, ours, whole, whole / ours, next, next / ours]);
}
process.stdout.write("(to reach: 20 at 10^4 crossings)\n\n");

process.stdout.write("The whole conversion, files included (ms)\n");
line(["cells", "crossings", "prepare", "files", "together", "us/crossing", "peak MB"]);
for (const cells of [10, 30, 100, 220]) {
  const run = best(cells, "convert");
  const { prepare = 0, files = 0 } = run.timesMs;
  const all = total(run);
  line([`${cells}²`, `${run.crossings}`, prepare, files, all, (1000 * all) / run.crossings, run.peakMb]);
}

process.stdout.write("\nComposing (ms): two panels tied, two fused, a ring\n");
line(["cells", "crossings", "tie", "fuse", "ring", "us/crossing", "peak MB"]);
for (const cells of [16, 50, 160]) {
  const output = execFileSync(process.execPath, [compose, `${cells}`], { encoding: "utf8" });
  const { timesMs, peakMb }: Run = JSON.parse(output);
  const { tie = 0, fuse = 0, ring = 0 } = timesMs;
  const crossings = 2 * (2 * cells * cells - 2 * cells) + 1;
  line([`2 x ${cells}²`, `${crossings}`, tie, fuse, ring, (1000 * tie) / crossings, peakMb]);
}

process.stdout.write(
  "\nRouter jobs, simulated at 0.1 mm, files included (to reach: 20 s and 10 s at 300 x 200 mm)\n",
);
line(["profile", "cells", "crossings", "cm2", "prepare ms", "files ms", "ms/cm2", "peak MB"]);
for (const profile of ["router-ground", "router-groove", "router-relief"]) {
  for (const [across, down] of [
    [5, 3],
    [9, 6],
    [13, 8],
  ] as const) {
    const args = [job, profile, `${across}`, `${down}`];
    const run = JSON.parse(execFileSync(process.execPath, args, { encoding: "utf8" }));
    const { prepare, files } = run.timesMs;
    line([
      profile.replace("router-", ""),
      `${across}x${down}`,
      `${run.crossings}`,
      run.cm2,
      prepare,
      files,
      (prepare + files) / run.cm2,
      run.peakMb,
    ]);
  }
}

process.stdout.write("\nSatin jobs in one thread, files included (to reach: 20 s at 5,000 crossings)\n");
line(["cells", "crossings", "stitches", "prepare ms", "files ms", "us/stitch", "peak MB"]);
for (const cells of [10, 22, 50]) {
  const run = JSON.parse(
    execFileSync(process.execPath, [job, "stitch-satin", `${cells}`, `${cells + 1}`, "12"], {
      encoding: "utf8",
    }),
  );
  const { prepare, files } = run.timesMs;
  line([
    `${cells}²`,
    `${run.crossings}`,
    `${run.stitches}`,
    prepare,
    files,
    (1000 * (prepare + files)) / run.stitches,
    run.peakMb,
  ]);
}
