/** `draft`: new design files, and the kerf test piece. */
import { done, type Fault, type Result } from "../base/fault.ts";
import { makeCouponFiles } from "../documents/coupon-files.ts";
import { CRAFT_KINDS } from "../documents/crafts.ts";
import { parseDesign } from "../documents/design.ts";
import { type DraftHead, draftPanelDesign, draftRingDesign, plainPanel } from "../documents/draft-design.ts";
import { readsNothing, weaveDesign } from "../documents/woven-design.ts";
import { draftFrame, draftRing, draftStrip, type StripEnd } from "../lattice/panel-draft.ts";
import { sha256 } from "./convert-verb.ts";
import { writeJobFolder } from "./job-folder.ts";
import { readFonts } from "./read-fonts.ts";
import { readProfile } from "./read-input.ts";
import { EXIT, print, printJson, tellFaults } from "./report.ts";
import { TOOL } from "./tool.ts";
import { writeWholeFile } from "./write-file.ts";

export interface DraftOptions {
  /** A ring has its own, which follows from its radius. */
  readonly pitch?: number;
  readonly title?: string;
  readonly hand: "Z" | "S";
  readonly out?: string;
  readonly json?: boolean;
}

interface Cells {
  readonly across: number;
  readonly down: number;
}

/** Answers the exit code. */
export function runDraftPanel({ across, down }: Cells, options: DraftOptions): number {
  return writeDraft(done(plainPanel(across, down)), options, {
    name: `panel-${across}x${down}`,
    title: `Panel of ${across} by ${down} cells`,
    text: draftPanelDesign,
  });
}

/** Answers the exit code. */
export function runDraftFrame(strands: number, options: DraftOptions & { readonly opening: Cells }): number {
  const { opening } = options;
  return writeDraft(draftFrame({ strands, opening }), options, {
    name: `frame-${strands}-${opening.across}x${opening.down}`,
    title: `Frame of ${strands} strands round ${opening.across} by ${opening.down} cells`,
    text: draftPanelDesign,
  });
}

interface RingOptions extends DraftOptions {
  readonly around: number;
  readonly strands: number;
  readonly inner: number;
}

/** Answers the exit code. */
export function runDraftRing(options: RingOptions): number {
  const { around, strands, inner } = options;
  // Cells are narrowest along the inner edge: what is as wide as a pitch there fits everywhere.
  const pitch = options.pitch ?? Number(((2 * Math.PI * inner) / around).toFixed(2));
  return writeDraft(
    done(draftRing(around, strands)),
    { ...options, pitch },
    {
      name: `ring-${strands}-${around}`,
      title: `Ring of ${strands} ${strands === 1 ? "strand" : "strands"}, ${around} cells round`,
      text: (head, rows) => draftRingDesign(head, rows, inner),
    },
  );
}

interface StripOptions extends DraftOptions {
  readonly strands: number;
  readonly repeats: number;
  readonly end: StripEnd;
}

/** Answers the exit code. */
export function runDraftStrip(options: StripOptions): number {
  const { strands, repeats, end } = options;
  return writeDraft(draftStrip({ strands, repeats, end }), options, {
    name: `strip-${strands}-${repeats}`,
    title: `Strip of ${strands} strands, ${repeats} cells long`,
    text: draftPanelDesign,
  });
}

interface Draft {
  /** Of the file, where the person gives none. */
  readonly name: string;
  readonly title: string;
  readonly text: (head: DraftHead, rows: readonly string[]) => string;
}

function writeDraft(rows: Result<readonly string[]>, options: DraftOptions, draft: Draft): number {
  const { json = false, hand, pitch = DEFAULT_PITCH_MM, title = draft.title } = options;
  if (!rows.ok) return tellFaults(rows.faults, json);
  const out = options.out ?? `${draft.name}.plait.json`;
  const text = draft.text({ pitchMm: pitch, title, hand }, rows.value);
  // A draft can be one that no design may be: better refused now than when the file is read.
  const design = parseDesign(text, out);
  if (!design.ok) return tellFaults(design.faults.map(withoutPlace), json);
  const { composition, pitchMm } = design.value;
  const drawn =
    composition && weaveDesign(design.value, { pitchMm, corner: "pointed", readBeside: readsNothing });
  if (drawn && !drawn.ok) return tellFaults(drawn.faults.map(withoutPlace), json);
  const written = writeWholeFile(out, text);
  if (!written.ok) return tellFaults(written.faults, json);
  if (json) printJson({ out });
  else print(`wrote ${out}`);
  return EXIT.done;
}

const DEFAULT_PITCH_MM = 16;

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
  const { craft } = profile.value;
  if (!CRAFT_KINDS[craft].options.includes("kerf"))
    return tellFaults([{ code: "option-not-for-craft", option: "draft coupon", craft }], json);
  const { files, manifest } = makeCouponFiles(profile.value, TOOL, sha256, readFonts);
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
