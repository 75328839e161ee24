/** `preview`: pictures of finished knots, as a person asks for them. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { PNG } from "pngjs";
import { describe, expect, test, vi } from "vitest";
import { type PreviewVerbOptions, runPreview } from "../../src/cli/preview-verb.ts";
import { Bench, type CliRun, sample } from "./run-cli.ts";

const bench = new Bench();

describe("pictures", () => {
  test("an SVG as large as the knot and a margin, transparent", () => {
    const out = bench.json(0, "preview", sample("harbour-badge"), "--style", "line", "--out", "badge.svg");
    // The ribbon, 0.36 of the pitch of 20 mm unless the design says more, leaves 0.6 of its width free all round.
    const { width, height } = out["size"] as { width: number; height: number };
    const svg = bench.read("badge.svg");
    const [, wide, high] = /<svg [^>]*width="(\S+)mm" height="(\S+)mm"/.exec(svg) ?? [];
    const ribbon = (Number(wide) - width) / 1.2;
    expect(ribbon).toBeGreaterThan(1);
    expect(Number(high) - height).toBeCloseTo(1.2 * ribbon, 2);
    expect(svg).not.toContain("<rect");
    expect(out).toMatchObject({ out: "badge.svg", style: "line", strands: 2 });
  });

  test("a PNG of exactly the width asked for, on a ground", () => {
    const args = [
      "preview",
      sample("tiller-triad"),
      "--style",
      "wood",
      "--ground",
      "f4efe6",
      "--width-px",
      "640",
    ];
    const out = bench.json(0, ...args, "--out", "triad.png");
    const png = PNG.sync.read(readFileSync(join(bench.folder, "triad.png")));
    expect(png.width).toBe(640);
    expect(out["pixels"]).toEqual([png.width, png.height]);
    expect([...png.data.slice(0, 4)]).toEqual([0xf4, 0xef, 0xe6, 255]);
    bench.json(0, ...args, "--out", "again.png");
    const { "triad.png": first, "again.png": second } = bench.digests();
    expect(second).toBe(first);
  });

  test("the knot fills the size asked for", () => {
    const args = ["preview", sample("sea-chest-lid"), "--style", "ribbon", "--size", "300x300"];
    const { size } = bench.json(0, ...args, "--out", "folder/lid.svg");
    expect((size as { width: number }).width).toBeCloseTo(300, 6);
    expect(bench.names("folder")).toEqual(["lid.svg"]);
  });

  test.each(["galley-doors", "wheel-rose", "loft-badge"])("%s weaves and can be shown", (name) => {
    const out = join(bench.folder, `${name}.png`);
    const run = inProcess(sample(name), { style: "thread", out, widthPx: 200 });
    expect([run.code, run.stderr]).toEqual([0, ""]);
    expect(run.stdout).toMatch(/^wrote \S+\.png, 200 × \d+ pixels\n$/);
    const { data } = PNG.sync.read(readFileSync(out));
    const alphas = new Set(data.filter((_, i) => i % 4 === 3));
    expect(alphas.has(0) && alphas.has(255)).toBe(true);
  });
});

/** The verb without a process of its own, which would take most of the time. */
function inProcess(file: string, options: PreviewVerbOptions): CliRun {
  const said = { stdout: "", stderr: "" };
  const spies = (["stdout", "stderr"] as const).map((stream) =>
    vi.spyOn(process[stream], "write").mockImplementation((text) => {
      said[stream] += String(text);
      return true;
    }),
  );
  try {
    return { code: runPreview(file, options), ...said };
  } finally {
    for (const spy of spies) spy.mockRestore();
  }
}

describe("what is refused", () => {
  const lid = sample("sea-chest-lid");
  const UNKNOWN = "is not one of the words that may stand here.";

  test.each<{ options: Partial<PreviewVerbOptions>; says: string }>([
    { options: { style: "leathr" }, says: `\`--style\`: “leathr” ${UNKNOWN} Did you mean \`leather\`?` },
    {
      options: { style: "xyz" },
      says: `“xyz” ${UNKNOWN} Known are \`line\`, \`ribbon\`, \`wood\`, \`leather\` and \`thread\`.`,
    },
    { options: { out: "x.jpg" }, says: "got “x.jpg”, and wants a file whose name ends in .svg or .png." },
    { options: { widthPx: 500 }, says: "wants a file whose name ends in .png where `--width-px` is given" },
    { options: { ground: "whit" }, says: `\`--ground\`: “whit” ${UNKNOWN} Did you mean \`white\`?` },
    { options: { ground: "12345" }, says: "wants a colour as f4efe6 or '#f4efe6', or a word as white." },
    { options: { out: "x.png", widthPx: 20_000 }, says: "at most for this design: the picture would be 1" },
    { options: { width: 40 }, says: "ask for a narrower one with `--width`" },
  ])("$options", ({ options, says }) => {
    const before = bench.names();
    const { out = "x.svg", ...more } = options;
    const run = inProcess(lid, { style: "line", ...more, out: join(bench.folder, out) });
    expect([run.code, run.stdout]).toEqual([2, ""]);
    expect(run.stderr.replace(`${bench.folder}/`, "")).toContain(says);
    expect(bench.names()).toEqual(before);
  });

  test("a width of more pixels than any picture may have", () => {
    const run = bench.run("preview", lid, "--style", "line", "--out", "x.png", "--width-px", "20001");
    expect(run.code).toBe(2);
    expect(run.stderr).toContain("Allowed is 16 to 20000 pixels.");
    expect(bench.names()).not.toContain("x.png");
  });

  test("a file that is there already is left as it is", () => {
    bench.write("mine.svg", "mine");
    const run = inProcess(lid, { style: "line", out: join(bench.folder, "mine.svg") });
    expect([run.code, bench.read("mine.svg")]).toEqual([2, "mine"]);
  });
});
