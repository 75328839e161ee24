/**
 * A job sheet as a craft would fill it in: the lid of a sea chest, four twisted bands of two
 * strands let into dark leather. The numbers are invented, the text is as long as real text is.
 */
import { PART_COLUMNS } from "../../src/crafts/leather-inlay/part-columns.ts";
import { type ArcChain, chainOf } from "../../src/geometry/arc-chain.ts";
import { parallelSegment, type Segment, segmentPart } from "../../src/geometry/segment.ts";
import type { JobSheet } from "../../src/output/job-sheet.ts";
import type { Picture, PictureItem } from "../../src/output/picture.ts";

const PANEL_MM = { width: 330, height: 210 };
const BANDS = 4;
const STEP_MM = 28;
const STEPS = 9;
/** Quarter turns: strands cross at a right angle, as each leaves the line of crossings at 45 degrees. */
const BULGE = Math.SQRT2 - 1;
const WIDTH_MM = 8;
const GAP_SHARE = 0.2;

const COLOURS = ["#c98a4b", "#e9d8b4"] as const;

/** A rectangle with rounded corners, its lower left corner at the origin. */
export function roundedPanel(width: number, height: number, radius: number): ArcChain {
  const corner = (x: number, y: number, bulge: number) => ({ x, y, bulge });
  return {
    closed: true,
    vertices: [
      corner(radius, 0, 0),
      corner(width - radius, 0, BULGE),
      corner(width, radius, 0),
      corner(width, height - radius, BULGE),
      corner(width - radius, height, 0),
      corner(radius, height, BULGE),
      corner(0, height - radius, 0),
      corner(0, radius, BULGE),
    ],
  };
}

/** A ribbon of two arcs from under one crossing, over the next, to under the one after. */
function twistPiece(x: number, y: number): ArcChain {
  const joints = [x, x + STEP_MM, x + 2 * STEP_MM].map((at) => ({ x: at, y }));
  const [a, b, c] = joints as [Segment["from"], Segment["from"], Segment["from"]];
  const middle = [
    segmentPart({ from: a, to: b, bulge: -BULGE }, GAP_SHARE, 1),
    segmentPart({ from: b, to: c, bulge: BULGE }, 0, 1 - GAP_SHARE),
  ];
  const side = (left: number) => middle.map((segment) => parallelSegment(segment, left)).filter((s) => !!s);
  const back = side(WIDTH_MM / 2)
    .reverse()
    .map(({ from, to, bulge }): Segment => ({ from: to, to: from, bulge: -bulge }));
  const there = side(-WIDTH_MM / 2);
  return chainOf([...there, ...caps(there, back), ...back, ...caps(back, there)], true);
}

function caps(before: readonly Segment[], after: readonly Segment[]): Segment[] {
  const from = before.at(-1)?.to;
  const to = after[0]?.from;
  return from && to ? [{ from, to, bulge: 0 }] : [];
}

function ribbons(): PictureItem[] {
  const items: PictureItem[] = [];
  const left = (PANEL_MM.width - STEP_MM * (STEPS + 1)) / 2;
  for (let band = 0; band < BANDS; band++) {
    const y = (PANEL_MM.height * (band + 0.5)) / BANDS + (1.5 - band) * 4;
    for (let step = 0; step < STEPS; step++) {
      items.push({
        kind: "area",
        chains: [twistPiece(left + step * STEP_MM, y)],
        fill: COLOURS[step % 2 === 0 ? 0 : 1],
        edge: { colour: "#2c1c10", widthMm: 0.4 },
        name: `Inlay ${items.length + 1}`,
      });
    }
  }
  return items;
}

export const SAMPLE_PICTURE: Picture = {
  title: "Sea-chest lid, seen from the front",
  description:
    "Four twisted bands of two strands, tan and cream, one above the other on a dark ground 330 mm wide and 210 mm high.",
  bounds: { minX: 0, minY: 0, maxX: PANEL_MM.width, maxY: PANEL_MM.height },
  items: [
    {
      kind: "area",
      chains: [roundedPanel(PANEL_MM.width, PANEL_MM.height, 6)],
      fill: "#5a3a24",
      edge: { colour: "#2c1c10", widthMm: 0.6 },
      name: "Ground",
    },
    ...ribbons(),
    {
      kind: "line",
      chains: [roundedPanel(322, 202, 4)].map(({ closed, vertices }) => ({
        closed,
        vertices: vertices.map(({ x, y, bulge }) => ({ x: x + 4, y: y + 4, bulge })),
      })),
      colour: "#e9d8b4",
      widthMm: 0.5,
      dashed: true,
    },
    { kind: "dimension", from: { x: 330, y: 0 }, to: { x: 0, y: 0 }, asideMm: 18, text: "330 mm" },
    { kind: "dimension", from: { x: 0, y: 0 }, to: { x: 0, y: 210 }, asideMm: 14, text: "210 mm" },
    { kind: "dimension", from: { x: 81, y: 210 }, to: { x: 109, y: 210 }, asideMm: 12, text: "28 mm" },
    { kind: "dimension", from: { x: 330, y: 204 }, to: { x: 330, y: 210 }, asideMm: -10, text: "6 mm" },
    { kind: "place", at: { x: 53, y: 92.75 }, text: "1", failed: true },
    { kind: "place", at: { x: 221, y: 137.25 }, text: "2", failed: true },
    { kind: "place", at: { x: 305, y: 40 }, text: "3", failed: false },
    { kind: "ruler", at: { x: 0, y: -26 }, lengthMm: 100 },
  ],
};

export const SAMPLE_SHEET: JobSheet = {
  title: "Sea-chest lid for the ketch “Widow’s Lantern”",
  craft: "Leather inlay, laser cut",
  verdict: {
    ready: false,
    text: "One check of ten fails: webs of ground between pockets. No machine file was written; what would mend it stands under Checks.",
  },
  picture: SAMPLE_PICTURE,
  sizes: [
    { name: "Finished size", value: "330 × 210 mm" },
    { name: "Pitch", value: "28 mm" },
    { name: "Ribbon width", value: "8 mm" },
    { name: "Gap beside a crossing", value: "1.32 mm" },
    { name: "Border", value: "25 mm" },
    { name: "Crossings", value: "36" },
    { name: "Strands", value: "2" },
    { name: "Inlay pieces", value: "36" },
    { name: "Length of ribbon, all strands", value: "2,487 mm" },
    { name: "Length of cut, pockets", value: "5.31 m" },
    { name: "Length of cut, inlays", value: "5.34 m" },
  ],
  materials: [
    {
      part: "Ground",
      material: "Vegetable-tanned leather, dark, about 2 mm",
      amount: "350 × 230 mm",
      note: "Lay it flat and hold it down: a sheet that lifts leaves the focus of the beam.",
    },
    {
      part: "Inlay, strand 1",
      material: "Vegetable-tanned leather, tan, as thick as the ground",
      amount: "210 × 150 mm",
      note: "A thicker inlay stands proud and can be pared down from the back.",
    },
    {
      part: "Inlay, strand 2",
      material: "Vegetable-tanned leather, cream, as thick as the ground",
      amount: "210 × 150 mm",
      note: "",
    },
    {
      part: "Backing",
      material: "Firm cloth or thin leather, 0.8 to 1.2 mm",
      amount: "340 × 220 mm",
      note: "Trim it when the glue has set.",
    },
  ],
  numbers: [
    number(
      "Kerf",
      "0.2 mm",
      "Width of the material that the beam takes away.",
      "Not yet measured on your machine: common practice, 0.15 to 0.30 mm.",
    ),
    number(
      "Clearance per side",
      "−0.05 mm",
      "Air between an inlay and its pocket; below zero it is pressed in.",
      "Common practice, 0 to −0.1 mm.",
    ),
    number("Pocket path moved in", "0.125 mm", "Half the kerf less half the clearance.", "Worked out."),
    number("Inlay path moved out", "0.125 mm", "Half the kerf less half the clearance.", "Worked out."),
    number(
      "Thickness",
      "2 mm",
      "Thickness of the ground leather.",
      "Common practice, 1.6 to 2 mm for small goods.",
    ),
    number(
      "Least web",
      "1.5 mm",
      "Narrowest strip of ground that may stay between two cuts.",
      "Common practice, 1.5 to 2 mm.",
    ),
    number(
      "Least ribbon",
      "3 mm",
      "Narrowest ribbon that can be picked up, glued and laid.",
      "Common practice.",
    ),
    number(
      "Least inner radius",
      "0.3 mm",
      "Smallest radius of an inward corner of a cut path.",
      "Half the kerf is geometry.",
    ),
    number(
      "Least part area",
      "20 mm²",
      "Smallest inlay that does not fall through the bed.",
      "Common practice.",
    ),
    number("Least angle", "35°", "Sharpest tip of a part that keeps its shape.", "Common practice."),
    number("Ease radius", "0.3 mm", "Sharp corners of a part are eased to this radius.", "Common practice."),
    number("Border", "25 mm", "Width of the ground left round the knot.", "Given in the design."),
    number("Spacing", "3 mm", "Distance between parts on the sheet.", "Common practice."),
    number("Bed", "600 × 400 mm", "What the machine can cut.", "The manual of your machine names it."),
  ],
  figures: [],
  tables: [
    {
      title: "Parts",
      columns: PART_COLUMNS,
      rows: [
        ["G", "Ground with 36 pockets", "1", "330 × 210 mm"],
        ["1–20", "Inlay, strand 1, tan", "20", "46.2 × 16.2 mm"],
        ["21–36", "Inlay, strand 2, cream", "16", "46.2 × 16.2 mm"],
        ["B", "Backing", "1", "340 × 220 mm"],
      ],
    },
  ],
  steps: [
    "Cut the test piece on scrap of both leathers, measure it, and put the kerf you found into the profile; then make the job again.",
    "Lay the ground leather with the back up, hold it flat, and mark the numbers first.",
    "Cut the pockets, then the outer edge: inner outlines always come before outer ones.",
    "Cut the inlays from the second and third leather, with the back up, and keep them in the order of their numbers.",
    "Wipe the charred edges clean and let all leathers air.",
    "Glue the ground to the backing, keeping glue out of the pockets’ walls.",
    "Dry-fit every inlay by its number; then glue them one by one and press each level with the ground.",
    "Press the whole flat between boards until the glue has set, then trim the backing and finish the edge.",
  ],
  checks: [
    passed("The strands lie over and under by turns", "36 crossings", "all", "Nothing to do."),
    passed(
      "Ribbon wide enough to handle",
      "8 mm",
      "≥ 3 mm",
      "It can be picked up and laid without stretching.",
    ),
    {
      title: "Webs of ground between pockets",
      verdict: "fail",
      measured: "1.32 mm",
      limit: "≥ 1.5 mm",
      places: "36; rings 1 and 2",
      note: "The strip of ground beside a crossing is narrower than the leather can hold. It tears when the inlay is pressed in, or chars through under the beam.",
      remedies: [
        "Pitch 31.9 mm (the whole design grows to 375.6 × 238.9 mm).",
        "Gap 1.5 mm (the ribbons end a little earlier beside each crossing).",
      ],
    },
    passed("Inward corners that the beam can reach", "0.35 mm", "≥ 0.3 mm", "The beam leaves them clean."),
    {
      title: "Room beside the stitch line",
      verdict: "warning",
      measured: "3.6 mm",
      limit: "≥ 4 mm",
      places: "2; ring 3",
      note: "The awl may catch the end of an inlay here.",
      remedies: ["Border 26 mm."],
    },
    passed("Parts large enough to keep", "393 mm²", "≥ 20 mm²", "None falls through the bed."),
    passed("Tips of parts that keep their shape", "90°", "≥ 35°", "None curls."),
    passed("Bends that the ribbon can follow", "15.8 mm", "≥ 4 mm", "Measured at the inner edge."),
    passed("Everything lies on the bed", "350 × 230 mm", "≤ 600 × 400 mm", "In one clamping."),
    passed(
      "Every inlay fits its pocket only",
      "36 of 36",
      "all",
      "Look-alikes are told apart by their numbers.",
    ),
  ],
  files: [
    { name: "ground.dxf", purpose: "pockets and outer edge, for the laser" },
    { name: "inlay-1.dxf", purpose: "inlays of strand 1, for the laser" },
    { name: "inlay-2.dxf", purpose: "inlays of strand 2, for the laser" },
    { name: "coupon.dxf", purpose: "the test piece, for the laser" },
    { name: "preview.svg", purpose: "the picture above" },
    { name: "job.json", purpose: "every number and check of this job, for other programs" },
  ],
  cautions: [
    "Never leave the laser while it runs. Stay beside it with a carbon dioxide extinguisher at hand; leather smoulders and can flare up.",
    "Run the extraction before the first cut and for some minutes after the last. Beam and fumes are both hazards of a laser processing machine. (ISO 11553-1.)",
    "Cut only materials that the machine’s list names and whose data sheet you hold.",
    "Never bypass an interlock or open the housing while the beam is on. A machine is laser class 1 only while its beam is wholly enclosed. (IEC 60825-1.)",
    "Never cut PVC or any other chlorinated plastic: it gives off hydrogen chloride.",
    "Treat chrome-tanned leather as not to be cut by laser. It holds chromium salts; use vegetable-tanned leather with the tanner’s data sheet.",
    "Dust of leather causes cancer in people (IARC Monographs volume 100C, Group 1). Catch it where it arises when you sand or pare.",
    "The vapour of contact cement and its solvents catches fire easily and from afar. Work with wide ventilation, without flame or heater, close the tins, wear gloves and read the data sheet.",
  ],
  standingLine:
    "These notes are general. The manual of your machine, the data sheet of your material, local law and codes, and training by a competent person come first; if they differ from this sheet, follow them. If you are not trained on the machine, have the work done by someone who is.",
  footer: "plaitwright 0.1.0 · design 3f1c9a27b0de · profile leather-inlay",
};

function number(name: string, value: string, meaning: string, source: string) {
  return { name, value, meaning, source };
}

function passed(title: string, measured: string, limit: string, note: string) {
  return { title, verdict: "pass" as const, measured, limit, places: "", note, remedies: [] };
}
