/** `preview`: pictures of finished knots, as a person asks for them. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { PNG } from "pngjs";
import { describe, expect, test } from "vitest";
import { Bench, sample } from "./run-cli.ts";

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
    const run = bench.run(
      "preview",
      sample(name),
      "--style",
      "thread",
      "--out",
      `${name}.png`,
      "--width-px",
      "200",
    );
    expect([run.code, run.stderr]).toEqual([0, ""]);
    expect(run.stdout).toMatch(new RegExp(`^wrote ${name}.png, 200 × \\d+ pixels\n$`));
    const { data } = PNG.sync.read(readFileSync(join(bench.folder, `${name}.png`)));
    const alphas = new Set(data.filter((_, i) => i % 4 === 3));
    expect(alphas.has(0) && alphas.has(255)).toBe(true);
  });
});

describe("what is refused", () => {
  const lid = sample("sea-chest-lid");

  test.each([
    {
      args: ["--style", "leathr", "--out", "x.svg"],
      says: "error `--style`: “leathr” is not one of the words that may stand here. Did you mean `leather`?\n",
    },
    {
      args: ["--style", "xyz", "--out", "x.svg"],
      says: "error `--style`: “xyz” is not one of the words that may stand here. Known are `line`, `ribbon`, `wood`, `leather` and `thread`.\n",
    },
    {
      args: ["--style", "wood", "--out", "x.jpg"],
      says: "error The option `--out` got “x.jpg”, and wants a file whose name ends in .svg or .png.\n",
    },
    {
      args: ["--style", "wood", "--out", "x.svg", "--width-px", "500"],
      says: "error The option `--out` got “x.svg”, and wants a file whose name ends in .png where `--width-px` is given: an SVG is sharp at every size.\n",
    },
    {
      args: ["--style", "wood", "--out", "x.svg", "--ground", "whit"],
      says: "error `--ground`: “whit” is not one of the words that may stand here. Did you mean `white`?\n",
    },
    {
      args: ["--style", "wood", "--out", "x.svg", "--ground", "12345"],
      says: "error The option `--ground` got “12345”, and wants a colour as f4efe6 or '#f4efe6', or a word as white.\n",
    },
    {
      args: ["--style", "line", "--out", "x.png", "--width-px", "20000"],
      says: "million in all.\n",
    },
    {
      args: ["--style", "line", "--out", "x.png", "--width-px", "20001"],
      says: "Allowed is 16 to 20000 pixels.",
    },
    {
      args: ["--style", "line", "--out", "x.svg", "--width", "40"],
      says: "ask for a narrower one with `--width`",
    },
  ])("$args", ({ args, says }) => {
    const before = bench.names();
    const run = bench.run("preview", lid, ...args);
    expect(run.code).toBe(2);
    expect(run.stderr).toContain(says);
    expect(run.stdout).toBe("");
    expect(bench.names()).toEqual(before);
  });

  test("a file that is there already is left as it is", () => {
    bench.write("mine.svg", "mine");
    const run = bench.run("preview", lid, "--style", "line", "--out", "mine.svg");
    expect([run.code, bench.read("mine.svg")]).toEqual([2, "mine"]);
  });
});
