/** What outside readers see in a PDF file. */
import { readFileSync } from "node:fs";
import { PNG } from "pngjs";
import { expect } from "vitest";
import { runTool, withFiles } from "./external.ts";

/** Fails unless the structure is sound, every font is embedded, and pages are drawn without a complaint. */
export function expectSoundPdf(bytes: Uint8Array): void {
  withFiles({ "a.pdf": bytes }, (pathOf) => {
    const path = pathOf("a.pdf");
    const checked = runTool("qpdf", ["--check", path]);
    expect(`${checked.code} ${checked.stderr}`).toBe("0 ");
    const fonts = runTool("pdffonts", [path]).stdout.trim().split("\n").slice(2);
    expect(fonts.length).toBeGreaterThan(0);
    // Columns from the right: object number and generation, uni, sub, emb.
    for (const font of fonts) expect(font.trim().split(/\s+/).slice(-5, -2)).toEqual(["yes", "yes", "yes"]);
    const drawn = runTool("pdftoppm", ["-r", "20", "-png", path, pathOf("page")]);
    expect(`${drawn.code} ${drawn.stderr}`).toBe("0 ");
  });
}

/** Words as a reader finds them, page by page; blanks and line ends are alike. */
export function textOf(bytes: Uint8Array): string[] {
  return withFiles({ "a.pdf": bytes }, (pathOf) => {
    const pages = runTool("pdftotext", ["-enc", "UTF-8", pathOf("a.pdf"), "-"]).stdout.split("\f");
    return pages.slice(0, -1).map((page) => page.replace(/\s+/g, " ").trim());
  });
}

/** The facts that pdfinfo lists, by their names. */
export function infoOf(bytes: Uint8Array, ...options: readonly string[]): ReadonlyMap<string, string> {
  return withFiles({ "a.pdf": bytes }, (pathOf) => {
    const lines = runTool("pdfinfo", [...options, pathOf("a.pdf")]).stdout.split("\n");
    return new Map(
      lines.map((line) => {
        const [name = "", ...rest] = line.split(":");
        return [name.trim().replace(/\s+/g, " "), rest.join(":").trim()];
      }),
    );
  });
}

/** The tags in the order of reading, with their words. */
export function structureOf(bytes: Uint8Array): string {
  return withFiles(
    { "a.pdf": bytes },
    (pathOf) => runTool("pdfinfo", ["-struct-text", pathOf("a.pdf")]).stdout,
  );
}

export interface DrawnPage {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly mmPerPx: number;
  /** 0 white to 1 black; row 0 at the top. */
  dark(column: number, row: number): number;
}

/** A page as a renderer draws it. */
export function drawPage(bytes: Uint8Array, page: number, dpi: number): DrawnPage {
  return withFiles({ "a.pdf": bytes }, (pathOf) => {
    const args = ["-r", String(dpi), "-f", String(page), "-l", String(page), "-singlefile", "-png"];
    const run = runTool("pdftoppm", [...args, pathOf("a.pdf"), pathOf("page")]);
    expect(`${run.code} ${run.stderr}`).toBe("0 ");
    const { width, height, data } = PNG.sync.read(readFileSync(pathOf("page.png")));
    return {
      widthPx: width,
      heightPx: height,
      mmPerPx: 25.4 / dpi,
      dark: (column, row) => {
        if (column < 0 || row < 0 || column >= width || row >= height) return 0;
        return 1 - (data[4 * (row * width + column)] ?? 255) / 255;
      },
    };
  });
}

export interface TracedPath {
  readonly kind: "stroke" | "fill" | "clip";
  readonly lineWidth: number;
  /** The numbers of each command in the file's points, y up, as a second renderer reads them. */
  readonly commands: readonly { readonly name: string; readonly numbers: readonly number[] }[];
}

/** The paths of a page as mutool reads them. */
export function tracePage(bytes: Uint8Array, page: number): TracedPath[] {
  return withFiles({ "a.pdf": bytes }, (pathOf) => {
    const trace = runTool("mutool", ["draw", "-F", "trace", pathOf("a.pdf"), String(page)]).stdout;
    const paths = trace.matchAll(/<(stroke|fill|clip)_path([^>]*)>(.*?)<\/\1_path>/gs);
    return Array.from(paths, ([, kind = "", attributes = "", body = ""]) => ({
      kind: kind as TracedPath["kind"],
      lineWidth: Number(/linewidth="([^"]*)"/.exec(attributes)?.[1] ?? 0),
      commands: Array.from(
        body.matchAll(/<(moveto|lineto|curveto|closepath)([^>]*)\/>/g),
        ([, name = "", values = ""]) => ({
          name,
          numbers: Array.from(values.matchAll(/"([^"]*)"/g), ([, value]) => Number(value)),
        }),
      ),
    }));
  });
}

/** The content of all pages, uncompressed, as text. */
export function contentOf(bytes: Uint8Array): string {
  return withFiles(
    { "a.pdf": bytes },
    (pathOf) => runTool("qpdf", ["--qdf", "--object-streams=disable", pathOf("a.pdf"), "-"]).stdout,
  );
}

/**
 * Where the middle of a dark line lies on a cut of the page from one point to another (mm from
 * its lower left corner), as a share of the cut, and how much ink the cut meets, mm.
 */
export function lineOnCut(
  page: DrawnPage,
  from: { readonly x: number; readonly y: number },
  to: { readonly x: number; readonly y: number },
): { readonly share: number; readonly inkMm: number } {
  const { mmPerPx, heightPx } = page;
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const steps = Math.ceil((4 * length) / mmPerPx);
  let ink = 0;
  let moment = 0;
  for (let i = 0; i <= steps; i++) {
    const t = i / steps;
    // Pixel centres lie at half numbers.
    const column = (from.x + (to.x - from.x) * t) / mmPerPx - 0.5;
    const row = heightPx - (from.y + (to.y - from.y) * t) / mmPerPx - 0.5;
    const value = smoothDark(page, column, row);
    ink += value;
    moment += value * t;
  }
  return { share: ink === 0 ? Number.NaN : moment / ink, inkMm: (ink / steps) * length };
}

function smoothDark(page: DrawnPage, column: number, row: number): number {
  const [c, r] = [Math.floor(column), Math.floor(row)];
  const [u, v] = [column - c, row - r];
  const upper = page.dark(c, r) * (1 - u) + page.dark(c + 1, r) * u;
  const lower = page.dark(c, r + 1) * (1 - u) + page.dark(c + 1, r + 1) * u;
  return upper * (1 - v) + lower * v;
}
