/** Composing at one size, in a process of its own; prints JSON like stages.ts. */
import { done } from "../../src/base/fault.ts";
import { composeDesign } from "../../src/documents/compose-design.ts";
import { plainPanel } from "../../src/documents/draft-design.ts";

const cells = Number(process.argv[2]);
const context = {
  pitchMm: { across: 16, down: 16 },
  corner: "pointed" as const,
  readBeside: () => done(""),
};
const panel = plainPanel(cells, cells);

const timesMs: Record<string, number> = {};
let crossings = 0;

function timed(stage: string, work: () => ReturnType<typeof composeDesign>): void {
  const start = performance.now();
  const made = work();
  timesMs[stage] = performance.now() - start;
  if (!made.ok) throw new Error(`${stage} was refused: ${JSON.stringify(made.faults)}`);
  crossings = made.value.diagram.x.length;
}

timed("tie", () =>
  composeDesign(
    {
      pieces: { half: { panel } },
      layout: [
        { name: "left", piece: "half", at: [0, 0] },
        { name: "right", piece: "half", at: [cells + 2, 0], mirror: true },
      ],
      joins: [{ tie: [{ in: "left" }, { in: "right" }], twists: 1 }],
    },
    context,
  ),
);
timed("fuse", () =>
  composeDesign(
    {
      pieces: {
        half: { panel },
        whole: {
          fuse: {
            parts: [
              { piece: "half", at: [0, 0] },
              { piece: "half", at: [cells, 0] },
            ],
            open: "middle",
          },
        },
      },
      layout: [{ piece: "whole", at: [0, 0] }],
      joins: [],
    },
    context,
  ),
);
timed("ring", () =>
  composeDesign(
    {
      pieces: {
        ring: { ring: { around: cells * 4, rows: Math.max(1, Math.round(cells / 4)), inner: 100 * cells } },
      },
      layout: [{ piece: "ring", at: [0, 0] }],
      joins: [],
    },
    context,
  ),
);
process.stdout.write(
  `${JSON.stringify({ cells, crossings, timesMs, peakMb: process.resourceUsage().maxRSS / 1e3 })}\n`,
);
