import type { SheetTable } from "../../output/job-sheet.ts";

/** How sheets list the parts of an inlay and of its test piece. */
export const PART_COLUMNS: SheetTable["columns"] = [
  { title: "Mark" },
  { title: "Part" },
  { title: "Count", isFigure: true },
  { title: "Size", isFigure: true },
];
