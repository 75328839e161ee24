/** `preview`: the finished knot as one picture, for listings and sharing. */
import { extname } from "node:path";
import { done, type Fault, type Result, refused } from "../base/fault.ts";
import { formatMm } from "../base/format-number.ts";
import { isLookName, LOOK_NAMES } from "../crafts/look/look-names.ts";
import type { Overrides, Pitch } from "../documents/job-settings.ts";
import { placePanelFaults } from "../documents/panel-places.ts";
import { type Preview, previewDesign } from "../documents/preview-design.ts";
import { writePictureSvg } from "../formats/picture-svg.ts";
import { groundColour } from "./ground-colour.ts";
import { memoryFault } from "./memory.ts";
import { pngFromSvg } from "./png-from-svg.ts";
import { besideOf, readDesign } from "./read-input.ts";
import { EXIT, print, printJson, tellFaults } from "./report.ts";
import { writeWholeFile } from "./write-file.ts";

export interface PreviewVerbOptions {
  readonly style: string;
  readonly out: string;
  readonly ground?: string;
  readonly widthPx?: number;
  readonly pitch?: Pitch;
  readonly size?: { readonly width: number; readonly height: number };
  readonly width?: number;
  readonly json?: boolean;
}

/** Wide enough for any page that shows it, and sharp on fine screens. */
const DEFAULT_WIDTH_PX = 1600;

/** Answers the exit code. */
export function runPreview(file: string, options: PreviewVerbOptions): number {
  const { style, out, widthPx, json = false } = options;
  const asked = readAsked(options);
  if (!asked.ok) return tellFaults(asked.faults, json);
  const { format, ground } = asked.value;
  if (!isLookName(style)) return tellFaults([wrongStyle(style)], json);
  const loaded = readDesign(file);
  if (!loaded.ok) return tellFaults(loaded.faults, json);
  const { design, title, text } = loaded.value;
  const memory = memoryFault(design.panel, "convert");
  if (memory) return tellFaults([{ ...memory, file }], json);
  const made = previewDesign(design, title, {
    look: style,
    ...(ground === undefined ? {} : { ground }),
    overrides: overridesOf(options),
    readBeside: besideOf(file),
  });
  if (!made.ok) return tellFaults(placePanelFaults(made.faults, text, file), json);
  const svg = writePictureSvg(made.value.picture);
  const image: Result<Image> =
    format === "svg" ? done({ content: svg }) : pngFromSvg(svg, widthPx ?? DEFAULT_WIDTH_PX);
  if (!image.ok) return tellFaults(image.faults, json);
  const written = writeWholeFile(out, image.value.content);
  if (!written.ok) return tellFaults(written.faults, json);
  tellWritten(options, made.value, image.value);
  return EXIT.done;
}

interface Image {
  readonly content: string | Uint8Array;
  /** Width and height, of a PNG. */
  readonly pixels?: readonly [number, number];
}

function tellWritten(
  { out, style, json }: PreviewVerbOptions,
  { size, strands }: Preview,
  { pixels }: Image,
): void {
  if (json) {
    printJson({ out, style, strands, size, ...(pixels ? { pixels } : {}) });
    return;
  }
  const shown = pixels
    ? `${pixels[0]} × ${pixels[1]} pixels`
    : `the knot ${formatMm(size.width)} × ${formatMm(size.height)}`;
  print(`wrote ${out}, ${shown}`);
}

function readAsked({ out, ground, widthPx }: PreviewVerbOptions): Result<{
  readonly format: "svg" | "png";
  readonly ground?: string;
}> {
  const ending = extname(out).toLowerCase();
  if (ending !== ".svg" && ending !== ".png")
    return refused({
      code: "bad-option",
      option: "--out",
      found: out,
      wanted: "a file whose name ends in .svg or .png",
    });
  if (ending === ".svg" && widthPx !== undefined)
    return refused({
      code: "bad-option",
      option: "--out",
      found: out,
      wanted: "a file whose name ends in .png where `--width-px` is given: an SVG is sharp at every size",
    });
  const format = ending === ".svg" ? "svg" : "png";
  if (ground === undefined) return done({ format });
  const colour = groundColour(ground);
  return colour.ok ? done({ format, ground: colour.value }) : colour;
}

function wrongStyle(found: string): Fault {
  return { code: "unknown-word", path: ["--style"], found, known: LOOK_NAMES };
}

function overridesOf({ pitch, size, width }: PreviewVerbOptions): Overrides {
  return {
    ...(pitch === undefined ? {} : { pitchMm: pitch }),
    ...(size === undefined ? {} : { sizeMm: size }),
    ...(width === undefined ? {} : { widthMm: width }),
  };
}
