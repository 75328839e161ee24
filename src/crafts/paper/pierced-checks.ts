/** The rules of a pierced piece, measured on what stays standing. */
import { formatMm } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import { atLeast, atMost, type Finding, LeastFinder, type Measured } from "../../checks/judge.ts";
import { growPitch, setNumber, widenRibbon } from "../../checks/remedy.ts";
import { between } from "../../geometry/point.ts";
import { checkRibbonRoom } from "./knot-checks.ts";
import type { PaperKnot } from "./paper-knot.ts";
import { narrowestMm, narrowPlaces, type PiercedPiece, singleHolds } from "./pierced-piece.ts";
import type { PiercedSettings } from "./settings.ts";

export interface PiercedGeometry {
  readonly knot: PaperKnot;
  readonly piece: PiercedPiece;
}

export function checkPierced(geometry: PiercedGeometry, settings: PiercedSettings): CheckResult[] {
  return [
    checkRibbonRoom(geometry.knot, settings),
    checkTogether(geometry, settings),
    checkBridgeLength(geometry, settings),
    checkHeld(geometry),
    checkNarrowest(geometry, settings),
    checkStarts(geometry, settings),
    checkReach(geometry, settings),
  ];
}

function checkTogether({ piece }: PiercedGeometry, { bridgeWidthMm }: PiercedSettings): CheckResult {
  return atMost(
    {
      rule: "holds-together",
      title: "Parts that would fall out",
      limit: 0,
      unit: "count",
      note: `Without bridges ${piece.parts.length - 1} would; ${piece.bridges.length} bridges of ${formatMm(bridgeWidthMm)} hold them.`,
    },
    { worst: piece.left - 1, short: piece.left > 1 ? [{ at: { x: 0, y: 0 }, value: piece.left - 1 }] : [] },
    () => [],
  );
}

function checkBridgeLength({ piece }: PiercedGeometry, settings: PiercedSettings): CheckResult {
  const { mostBridgeMm: limit } = settings;
  const lengths = piece.bridges.map(
    ({ onA, onB, lengthMm }): Measured => ({ at: between(onA, onB, 0.5), value: lengthMm }),
  );
  const found: Finding = {
    worst: lengths.length === 0 ? null : Math.max(...lengths.map(({ value }) => value)),
    short: lengths.filter(({ value }) => value > limit),
  };
  return atMost(
    {
      rule: "bridge-length",
      title: "Length of the longest bridge",
      limit,
      unit: "mm",
      note: "A long thin bridge bends under the saw and breaks.",
    },
    found,
    (worst) => [
      setNumber("borderMm", settings.borderMm - (worst - limit), "a border that lies nearer to the knot"),
    ],
  );
}

function checkHeld({ piece }: PiercedGeometry): CheckResult {
  const short = piece.bridges
    .filter(({ held }) => !held)
    .map(({ onA, onB }): Measured => ({ at: between(onA, onB, 0.5), value: 1 }));
  return atMost(
    {
      rule: "bridge-ends",
      title: "Bridges that are wider than what they stand on",
      limit: 0,
      unit: "count",
      note: "There the bridge hangs on less than its own width.",
    },
    { worst: piece.bridges.length === 0 ? null : short.length, short },
    () => [],
  );
}

/** What is twice as wide as it must be need not be measured. */
const MEASURE_UP_TO = 2;

function checkNarrowest({ piece }: PiercedGeometry, settings: PiercedSettings): CheckResult {
  const { leastWebMm: limit, ribbon, bridgeWidthMm, pierce, crossings } = settings;
  const worst = narrowestMm(piece, MEASURE_UP_TO * limit);
  const found = new LeastFinder(limit);
  if (worst < limit) for (const at of narrowPlaces(piece, limit)) found.add(worst, at);
  return atLeast(
    {
      rule: "least-web",
      title: "Narrowest place that the piece hangs on",
      limit,
      unit: "mm",
      note: "A narrower web breaks when the waste is taken out.",
    },
    { worst, short: found.finding.short },
    () => [
      ...(bridgeWidthMm < limit ? [setNumber("bridgeWidthMm", limit, `bridges of ${formatMm(limit)}`)] : []),
      ...(pierce === "ground" && ribbon.widthMm < limit ? widenRibbon(limit) : []),
      // Between pierced ribbons the ground hangs on the gap.
      ...(pierce === "ribbon" && crossings === "gapped" && ribbon.gapMm < limit
        ? [setNumber("gap", limit, `gap ${formatMm(limit)}`)]
        : []),
      ...growPitch(ribbon, limit / Math.max(worst, Number.MIN_VALUE)),
    ],
  );
}

function checkStarts({ piece }: PiercedGeometry, settings: PiercedSettings): CheckResult {
  const { startHoleMm: limit, ribbon } = settings;
  const found = new LeastFinder(limit);
  for (const { widest, discMm } of piece.openings) found.add(discMm, widest);
  return atLeast(
    {
      rule: "start-hole",
      title: "Room for the start hole in the smallest opening",
      limit,
      unit: "mm",
      note: "The blade is threaded through a hole; an opening that takes none cannot be cut.",
    },
    found.finding,
    (worst) => growPitch(ribbon, limit / Math.max(worst, Number.MIN_VALUE)),
  );
}

/** Only a warning: it holds, but it swings. */
function checkReach(
  { piece }: PiercedGeometry,
  { mostReachMm: limit, symmetric }: PiercedSettings,
): CheckResult {
  const holds = singleHolds(piece);
  const check = atMost(
    {
      rule: "single-hold",
      title: "How far a part reaches from the only bridge that holds it",
      limit,
      unit: "mm",
      note: "It holds together, but such a part swings and breaks off; more bridges would steady it.",
    },
    {
      worst: holds.length === 0 ? null : Math.max(...holds.map(({ reachMm }) => reachMm)),
      short: holds
        .filter(({ reachMm }) => reachMm > limit)
        .map(({ at, reachMm }) => ({ at, value: reachMm })),
    },
    () =>
      symmetric || piece.symmetries === 1
        ? []
        : [
            {
              change: "symmetric",
              value: "yes",
              text: "bridges in every place that the design's symmetry asks for",
            },
          ],
  );
  return check.verdict === "fail" ? { ...check, verdict: "warning" } : check;
}
