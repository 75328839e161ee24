/** `draft`: new design files, and the kerf test piece. */
import type { Fault } from "../base/fault.ts";
import { makeCouponFiles } from "../documents/coupon-files.ts";
import { parseDesign } from "../documents/design.ts";
import { draftPanel } from "../documents/draft-design.ts";
import { sha256 } from "./convert-verb.ts";
import { writeJobFolder } from "./job-folder.ts";
import { readProfile } from "./read-input.ts";
import { EXIT, print, printJson, tellFaults } from "./report.ts";
import { TOOL } from "./tool.ts";
import { writeWholeFile } from "./write-file.ts";

export interface PanelDraftOptions {
  readonly pitch: number;
  readonly title?: string;
  readonly hand: "Z" | "S";
  readonly out?: string;
  readonly json?: boolean;
}

/** Answers the exit code. */
export function runDraftPanel(size: { across: number; down: number }, options: PanelDraftOptions): number {
  const name = `panel-${size.across}x${size.down}`;
  const out = options.out ?? `${name}.plait.json`;
  const title = options.title ?? `Panel of ${size.across} by ${size.down} cells`;
  const text = draftPanel({ ...size, pitchMm: options.pitch, title, hand: options.hand });
  const json = options.json ?? false;
  // A title can be one that no design may have: better refused now than when the file is read.
  const design = parseDesign(text, out);
  if (!design.ok) return tellFaults(design.faults.map(withoutPlace), json);
  const written = writeWholeFile(out, text);
  if (!written.ok) return tellFaults(written.faults, json);
  if (json) printJson({ out });
  else print(`wrote ${out}`);
  return EXIT.done;
}

/** The fault without file and line: the text that it lies in was never written. */
function withoutPlace({ file: _file, line: _line, column: _column, ...fault }: Fault): Fault {
  return fault;
}

/** Answers the exit code. */
export function runDraftCoupon(options: {
  readonly profile: string;
  readonly out: string;
  readonly json?: boolean;
}): number {
  const json = options.json ?? false;
  const profile = readProfile(options.profile);
  if (!profile.ok) return tellFaults(profile.faults, json);
  const { files, manifest } = makeCouponFiles(profile.value, TOOL, sha256);
  const written = writeJobFolder(options.out, files);
  if (!written.ok) return tellFaults(written.faults, json);
  if (json) {
    printJson({ out: options.out, ...manifest });
    return EXIT.done;
  }
  for (const { path } of files) print(`wrote ${options.out}/${path}`);
  print(
    "Cut it, find the pair that fits without play and without pressing, and give its number with --kerf.",
  );
  return EXIT.done;
}
