/** Knots to be drawn finished: of panels, and of a plane graph with curved crossings and pointed corners. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { FinishedPicture, PictureLook } from "../../../src/crafts/look/finished-picture.ts";
import { finishedPicture } from "../../../src/crafts/look/finished-picture.ts";
import type { LookName } from "../../../src/crafts/look/look-names.ts";
import { parseDesign } from "../../../src/documents/design.ts";
import { settleWoven } from "../../../src/documents/prepare-job.ts";
import { readsNothing, type Woven } from "../../../src/documents/woven-design.ts";

export interface WovenSample {
  readonly woven: Woven;
  readonly widthMm: number;
  readonly gapMm: number;
}

/** A sample of the project, woven with ribbons of so much of its pitch. */
export function wovenSample(name: string, widthPerPitch = 0.36, gapPerPitch = 0.05): WovenSample {
  const file = fileURLToPath(new URL(`../../../samples/${name}.plait.json`, import.meta.url));
  const design = parseDesign(readFileSync(file, "utf8"), file);
  if (!design.ok) throw new Error(JSON.stringify(design.faults));
  const settled = settleWoven(design.value, {
    corner: "pointed",
    defaults: { widthPerPitch, gapPerPitch, borderMm: 0 },
    overrides: {},
    readBeside: readsNothing,
  });
  if (!settled.ok) throw new Error(JSON.stringify(settled.faults));
  const { woven, ribbon } = settled.value;
  return { woven, widthMm: ribbon.widthMm, gapMm: ribbon.gapMm };
}

export function drawn(
  { woven, ...size }: WovenSample,
  look: LookName,
  more: Partial<PictureLook> = {},
): FinishedPicture {
  const finished = finishedPicture(woven, size, { title: "Sample", look, ...more });
  if ("kind" in finished) throw new Error(JSON.stringify(finished));
  return finished;
}
