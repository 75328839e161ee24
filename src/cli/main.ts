#!/usr/bin/env node
/** The command line: reads arguments, calls a verb, answers its exit code. */
import { Command, CommanderError, Option } from "commander";
import { LOOK_NAMES } from "../crafts/look/look-names.ts";
import { type ConvertOptions, runCheck, runConvert } from "./convert-verb.ts";
import { runDraftCoupon, runDraftFrame, runDraftPanel, runDraftRing, runDraftStrip } from "./draft-verb.ts";
import { runInspect } from "./inspect-verb.ts";
import {
  cellCount,
  cells,
  difficulty,
  exerciseCount,
  fewCells,
  kerfMm,
  lengthMm,
  pitchMm,
  pixels,
  seedNumber,
  sizeMm,
  squarePitchMm,
  strandCount,
} from "./options.ts";
import { runPreview } from "./preview-verb.ts";
import { runProfiles } from "./profiles-verb.ts";
import { EXIT } from "./report.ts";
import { runSet } from "./set-verb.ts";
import { runDotSheet, runExerciseSheet, runLatticeSheet, SHEET_PAPERS } from "./sheet-verb.ts";
import { systemCode } from "./system-reason.ts";
import { TOOL } from "./tool.ts";

function makeProgram(answer: (code: number) => void): Command {
  const program = new Command(TOOL.name)
    .description("From a knotwork design to checked files for making it.")
    .version(TOOL.version)
    .showHelpAfterError("(--help shows what is allowed)")
    .exitOverride();

  program
    .command("inspect")
    .description("crossings, strands and their lengths, hand, faces, size, and a picture of the plan")
    .argument("<design>", "a *.plait.json file")
    .option("--pd", "add the planar diagram code")
    .option("--link", "add the determinant, and the name of a known small link with the same invariants")
    .option("--json", "machine-readable, on standard output")
    .action((design, options) => answer(runInspect(design, options)));

  settings(program.command("convert").description("check a design and write its job folder"))
    .requiredOption(
      "--out <folder>",
      "the job folder: new, empty, or an earlier job, which is replaced whole",
    )
    .option("--despite-checks", "write the files for the machine although a check failed")
    .addOption(
      new Option("--also <format...>", "further formats of the cut files").choices([
        "dxf-r12",
        "maker-model",
      ]),
    )
    .action((design: string, options: ConvertOptions) => answer(runConvert(design, options)));

  settings(program.command("check").description("the checks alone; nothing is written")).action(
    (design, options) => answer(runCheck(design, options)),
  );

  program
    .command("preview")
    .description("a picture of the finished knot for listings and sharing, as SVG or PNG")
    .argument("<design>", "a *.plait.json file")
    .requiredOption("--style <name>", `the look: ${LOOK_NAMES.join(", ")}`)
    .requiredOption("--out <file>", "the new file, by its ending .svg or .png")
    .option("--ground <colour>", "behind the knot: f4efe6, or a word as white (default: transparent)")
    .option("--width-px <pixels>", "of a PNG (default: 1600)", pixels)
    .option("--pitch <mm>", "between neighbouring cell centres; the ribbon grows with it", pitchMm)
    .addOption(
      new Option("--size <WxH>", "mm that the knot is to fit into, as 300x200")
        .argParser(sizeMm)
        .conflicts("pitch"),
    )
    .option("--width <mm>", "of the ribbon", lengthMm)
    .option("--json", "machine-readable, on standard output")
    .action((design, options) => answer(runPreview(design, options)));

  program
    .command("profiles")
    .description("the craft profiles, or one with its numbers, their meaning and the cautions")
    .argument("[name]", "a profile's name, or the path of your own")
    .option("--json", "machine-readable, on standard output")
    .action((name, options) => answer(runProfiles(name, options)));

  program
    .command("set")
    .description("convert several designs alike: one profile, ribbon width, gap and hand")
    .argument("<file>", "a *.set.json file beside its designs")
    .requiredOption("--out <folder>", "gets one job folder for each design")
    .option("--despite-checks", "write the files for the machine although a check failed")
    .option("--kerf <mm>", "as you measured it on your machine and material", kerfMm)
    .option("--json", "machine-readable, on standard output")
    .action((file, options) => answer(runSet(file, options)));

  const sheet = program.command("sheet").description("pages to print, for those who teach or learn");
  paperSheet(
    sheet.command("lattice").description("a design's lattice to solve, then step by step, then solved"),
  )
    .argument("<design>", "a *.plait.json file of one panel")
    .action((design, options) => answer(runLatticeSheet(design, options)));
  paperSheet(sheet.command("exercises").description("different lattices to solve, with their answers"))
    .requiredOption("--cells <cells>", "cells across and down, as 5x4", fewCells)
    .option("--count <n>", "how many", exerciseCount, 6)
    .option("--strands <count>", "strands that each is to have; any number if left out", strandCount)
    .option("--difficulty <step>", "1 to 5: more breaklines", difficulty, 2)
    .option("--seed <number>", "the same number gives the same exercises", seedNumber, 1)
    .option("--pitch <mm>", "between neighbouring cell centres", squarePitchMm, 20)
    .action((options) => answer(runExerciseSheet(options)));
  paperSheet(sheet.command("dots").description("empty dots to draw on, in rows or in a ring"))
    .option("--pitch <mm>", "between neighbouring cell centres", squarePitchMm, 15)
    .option("--around <cells>", "a ring of so many cells, in place of rows", cellCount)
    .option("--rows <cells>", "of a ring: cells across it", cellCount, 2)
    .option("--inner <mm>", "of a ring: radius of the inner edge", lengthMm, 40)
    .action((options) => answer(runDotSheet(options)));

  const draft = program.command("draft").description("make a new design file, or the kerf test piece");
  newDesign(draft.command("panel").description("a plain panel"), "panel-6x4")
    .argument("<cells>", "cells across and down, as 6x4", cells)
    .action((size, options) => answer(runDraftPanel(size, options)));
  newDesign(draft.command("frame").description("a border round an opening"), "frame-3-8x5")
    .argument("<strands>", "side by side in the border, 2 or more", strandCount)
    .requiredOption("--opening <cells>", "cells across and down, as 8x5", cells)
    .action((strands, options) => answer(runDraftFrame(strands, options)));
  newDesign(draft.command("ring").description("a ring"), "ring-3-16", "as the cells of the inner edge")
    .requiredOption("--around <cells>", "cells round it, 3 or more", cellCount)
    .requiredOption("--strands <count>", "side by side", strandCount)
    .requiredOption("--inner <mm>", "radius of the inner edge", lengthMm)
    .action((options) => answer(runDraftRing(options)));
  newDesign(draft.command("strip").description("a straight strip, for a belt or a bookmark"), "strip-4-12")
    .requiredOption("--strands <count>", "side by side, an even number", strandCount)
    .requiredOption("--repeats <cells>", "cells along it, ends included", cellCount)
    .addOption(
      new Option("--end <form>", "both ends; shaped ones show from six strands on")
        .choices(["square", "pointed", "rounded"])
        .default("square"),
    )
    .action((options) => answer(runDraftStrip(options)));
  draft
    .command("coupon")
    .description("a test piece to measure the kerf with")
    .requiredOption("--profile <name>", "a profile's name, or the path of your own")
    .requiredOption("--out <folder>", "the job folder")
    .option("--json", "machine-readable, on standard output")
    .action((options) => answer(runDraftCoupon(options)));
  return program;
}

/** The options that all printed sheets share. */
function paperSheet(command: Command): Command {
  return command
    .requiredOption("--out <file>", "the new PDF file")
    .addOption(new Option("--paper <size>", "what is printed on").choices(SHEET_PAPERS).default("A4"))
    .option("--json", "machine-readable, on standard output");
}

/** The options that all new design files share. */
function newDesign(command: Command, file: string, pitch = "16"): Command {
  return command
    .option("--pitch <mm>", `between neighbouring cell centres (default: ${pitch})`, squarePitchMm)
    .option("--title <text>", "the design's name")
    .addOption(new Option("--hand <hand>", "of the weave").choices(["Z", "S"]).default("Z"))
    .option("--out <file>", `the new file (default: ${file}.plait.json and so on)`)
    .option("--json", "machine-readable, on standard output");
}

/** The options that `convert` and `check` share. */
function settings(command: Command): Command {
  return command
    .argument("<design>", "a *.plait.json file")
    .requiredOption("--profile <name>", "a profile's name, or the path of your own")
    .option(
      "--pitch <mm>",
      "between neighbouring cell centres: 12, or 12x14; ribbon and gap grow with it",
      pitchMm,
    )
    .option("--width <mm>", "of the ribbon; it then does not grow with the pitch", lengthMm)
    .option("--gap <mm>", "of ground at each under-crossing; it then does not grow with the pitch", lengthMm)
    .addOption(new Option("--corner <form>", "of the ribbon").choices(["pointed", "round"]))
    .addOption(
      new Option("--size <WxH>", "mm that the finished piece is to fit into, as 300x200; scales the pitch")
        .argParser(sizeMm)
        .conflicts("pitch"),
    )
    .option("--stretch", "with --size: fill both sides exactly, by a stretched lattice")
    .option("--kerf <mm>", "as you measured it on your machine and material", kerfMm)
    .addOption(
      new Option("--way <way>", "every ribbon piece its own inlay, or the knot as one").choices([
        "pieces",
        "laced",
      ]),
    )
    .option("--json", "machine-readable, on standard output")
    .hook("preAction", (_, action) => {
      const { stretch, size } = action.opts();
      if (stretch === true && size === undefined) action.error("error: --stretch needs --size WxH");
    });
}

function main(): void {
  // A reader that has seen enough (| head) is no fault.
  process.stdout.on("error", (error) => {
    if (systemCode(error) !== "EPIPE") throw error;
    process.exit();
  });
  let code: number = EXIT.done;
  try {
    makeProgram((answered) => {
      code = answered;
    }).parse();
  } catch (error) {
    if (error instanceof CommanderError) {
      // Help and version are no errors; everything else that the parser refuses is bad usage.
      code = error.exitCode === 0 ? EXIT.done : EXIT.badInput;
    } else {
      const message = error instanceof Error ? error.message : String(error);
      process.stderr.write(
        `error this is a fault of ours, not of your design: ${message}\nNothing was written. Please report it with the design file.\n`,
      );
      code = EXIT.ourFault;
    }
  }
  process.exitCode = code;
}

main();
