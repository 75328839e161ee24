/** The rules of a leather inlay, measured on the paths that will be cut. */
import { formatNumber, roundDown, roundUp } from "../../base/format-number.ts";
import { LIMIT_SLACK_MM } from "../../base/tolerance.ts";
import { measureBends } from "../../checks/bends.ts";
import type { CheckResult, Remedy } from "../../checks/check.ts";
import { atLeast, atMost, type Finding, LeastFinder, type Measured } from "../../checks/judge.ts";
import { measurePoints } from "../../checks/points.ts";
import { growPitch, narrowGap, narrowRibbon, setNumber, widenGap, widenRibbon } from "../../checks/remedy.ts";
import { measureSpacing } from "../../checks/spacing.ts";
import { type ArcChain, chainStart, signedArea } from "../../geometry/arc-chain.ts";
import type { Point } from "../../geometry/point.ts";
import type { RibbonTrouble, Shape } from "../../ribbon/ribbon.ts";
import type { InlayParts } from "./parts.ts";
import { type InlaySettings, leastEase, leastWeb } from "./settings.ts";

export interface InlayGeometry {
  readonly parts: InlayParts;
  readonly troubles: readonly RibbonTrouble[];
  /** Ribbon outlines before their corners are eased. */
  readonly outlines: readonly Shape[];
  readonly centrelines: readonly ArcChain[];
  readonly crossingAt: (crossing: number) => Point;
  /** The finished panel, mm. */
  readonly size: { readonly width: number; readonly height: number };
  /** The most room that the beam needs each way, for the panel or a sheet of parts, mm. */
  readonly reach: { readonly width: number; readonly height: number };
}

export function checkInlay(geometry: InlayGeometry, settings: InlaySettings): CheckResult[] {
  return [
    checkRoom(geometry, settings),
    checkWidth(geometry, settings),
    ...checkWebs(geometry, settings),
    checkBends(geometry, settings),
    checkPoints(geometry, settings),
    checkEasing(geometry, settings),
    checkSmallest(geometry, settings),
    checkLoose(geometry),
    checkBed(geometry, settings),
    checkKerf(settings),
  ];
}

function checkRoom({ troubles, parts }: InlayGeometry, { ribbon }: InlaySettings): CheckResult {
  const short = [
    ...troubles.filter(({ kind }) => kind === "too-wide").map(({ at }) => ({ at, value: 1 })),
    ...parts.lost.map((at) => ({ at, value: 1 })),
  ];
  const { widthMm, gapMm, widthFixed, gapFixed } = ribbon;
  return atMost(
    {
      rule: "ribbon-room",
      title: "Every ribbon piece has room to be drawn",
      limit: 0,
      unit: "count",
      note: "Where a ribbon is too wide for the room it has, its edges run into each other and there is nothing to cut.",
    },
    { worst: short.length, short },
    // How much room is wanted can't be measured where nothing could be drawn: steps, which proving takes further.
    () => [
      ...narrowRibbon(widthMm * 0.8),
      ...narrowGap(gapMm * 0.7),
      ...(widthFixed || gapFixed ? growPitch(ribbon, 1.25) : []),
    ],
  );
}

function checkWidth({ centrelines }: InlayGeometry, settings: InlaySettings): CheckResult {
  const { ribbon, clearancePerSideMm, leastRibbonMm } = settings;
  const left = ribbon.widthMm - clearancePerSideMm;
  const at = centrelines[0] ? [{ at: chainStart(centrelines[0]), value: left }] : [];
  return atLeast(
    {
      rule: "ribbon-width",
      title: "Width of the cut ribbon",
      limit: leastRibbonMm,
      unit: "mm",
      note: "Narrower strips stretch and curl when they are picked up and glued.",
    },
    { worst: left, short: left < leastRibbonMm ? at : [] },
    () => [
      ...widenRibbon(leastRibbonMm + clearancePerSideMm),
      ...(ribbon.widthFixed ? [] : growPitch(ribbon, (leastRibbonMm + clearancePerSideMm) / ribbon.widthMm)),
    ],
  );
}

function checkWebs({ parts, crossingAt }: InlayGeometry, settings: InlaySettings): CheckResult[] {
  const { ribbon, clearancePerSideMm: clearance } = settings;
  const limitMm = leastWeb(settings);
  const spacing = measureSpacing(
    parts.parts.map(({ opening, ends, over }) => ({
      outlines: [opening.outline, ...opening.holes],
      ends,
      over,
    })),
    { limitMm, takenMm: settings.kerfMm, crossingReachMm: ribbon.widthMm + 2 * ribbon.gapMm, crossingAt },
  );
  const note = `The ground that stays between two openings must be as wide as the leather is thick, ${formatNumber(settings.thicknessMm, 2)} mm, and no less than ${formatNumber(settings.leastWebMm, 2)} mm: a narrower web chars through or tears.`;
  // Outlines lie one clearance further apart than openings; everything grows with the pitch.
  const grown = (worst: number) => (limitMm + clearance) / (worst + clearance);
  const thinner = (worst: number): Remedy[] =>
    worst >= settings.leastWebMm
      ? [
          setNumber(
            "thicknessMm",
            roundDown(worst, 1),
            `ground leather of ${formatNumber(roundDown(worst, 1), 1)} mm`,
          ),
        ]
      : [];
  return [
    atLeast(
      {
        rule: "web-at-crossings",
        title: "Web of ground between openings at crossings",
        limit: limitMm,
        unit: "mm",
        note,
      },
      spacing.atCrossings,
      (worst) => [
        ...widenGap(ribbon.gapMm + limitMm - worst),
        ...(ribbon.gapFixed ? [] : growPitch(ribbon, grown(worst))),
        ...thinner(worst),
      ],
    ),
    atLeast(
      {
        rule: "web-beside",
        title: "Web of ground between neighbouring ribbons",
        limit: limitMm,
        unit: "mm",
        note,
      },
      spacing.beside,
      (worst) => [
        ...narrowRibbon(ribbon.widthMm - (limitMm - worst)),
        ...growPitch(
          ribbon,
          ribbon.widthFixed
            ? (limitMm + clearance + ribbon.widthMm) / (worst + clearance + ribbon.widthMm)
            : grown(worst),
        ),
        ...thinner(worst),
      ],
    ),
  ];
}

function checkBends({ centrelines }: InlayGeometry, settings: InlaySettings): CheckResult {
  const { ribbon } = settings;
  // A path can't follow a bend that is tighter than the path lies beside it: the fit would be lost there.
  const limit = Math.max(settings.leastInnerRadiusMm, leastEase(settings));
  return atLeast(
    {
      rule: "bend-radius",
      title: "Radius of the inner edge at bends",
      limit,
      unit: "mm",
      note: "A bend whose inner edge is tighter burns at the inside and can't be eased.",
    },
    measureBends(centrelines, ribbon.widthMm, limit),
    (worst) => {
      const radius = worst + ribbon.widthMm / 2;
      return [
        ...narrowRibbon(2 * (radius - limit)),
        ...growPitch(ribbon, ribbon.widthFixed ? (limit + ribbon.widthMm / 2) / radius : limit / worst),
      ];
    },
  );
}

function checkPoints({ outlines }: InlayGeometry, { ribbon, leastAngleDeg }: InlaySettings): CheckResult {
  return atLeast(
    {
      rule: "sharp-points",
      title: "Sharpest point of a part or of the ground",
      limit: leastAngleDeg,
      unit: "degrees",
      note: "Sharper tips char, curl and lift.",
    },
    measurePoints(allChains(outlines), leastAngleDeg),
    (worst) => squarerLattice(ribbon, leastAngleDeg, worst),
  );
}

/** On a stretched lattice the diagonals cross at 2 atan(short/long): make the short side longer. */
function squarerLattice(ribbon: InlaySettings["ribbon"], leastDeg: number, worstDeg: number): Remedy[] {
  const { across, down } = ribbon.pitchMm;
  const short = Math.min(across, down);
  const long = Math.max(across, down);
  const crossingDeg = (2 * Math.atan(short / long) * 180) / Math.PI;
  const wanted = Math.tan((((leastDeg + crossingDeg - worstDeg) / 2) * Math.PI) / 180) * long;
  const value = roundUp(wanted, 2);
  if (!(value > short && value <= long)) return [];
  const pair: [number, number] = across < down ? [value, down] : [across, value];
  return [
    {
      change: "pitch",
      value: pair,
      text: `pitch ${formatNumber(pair[0], 2)}x${formatNumber(pair[1], 2)} mm, a lattice nearer to square`,
    },
  ];
}

function checkEasing({ parts }: InlayGeometry, settings: InlaySettings): CheckResult {
  const { ribbon, easeRadiusMm } = settings;
  const limit = leastEase(settings);
  // Where the easing is too little by itself, every corner is.
  const short = easeRadiusMm < limit - LIMIT_SLACK_MM ? cornersOf(parts, easeRadiusMm) : parts.sharp;
  return atLeast(
    {
      rule: "corner-easing",
      title: "Radius that corners are eased to",
      limit,
      unit: "mm",
      note: "The beam is round: in a sharper corner the part and its opening would not have the same clearance as along the edges.",
    },
    { worst: short.reduce((least, { value }) => Math.min(least, value), easeRadiusMm), short },
    (worst) => [
      setNumber(
        "easeRadiusMm",
        roundUp(limit, 2),
        `corners eased to ${formatNumber(roundUp(limit, 2), 2)} mm`,
      ),
      ...(easeRadiusMm < limit ? [] : growPitch(ribbon, 1.25)),
      // Round the inside of a bend an under-strand ends on the bend's radius less half the ribbon and the gap.
      ...(worst > 0 ? narrowGap(ribbon.gapMm - (limit - worst)) : []),
    ],
  );
}

/** A place on each part, for what is wrong with all of its corners. */
function cornersOf({ parts }: InlayParts, value: number): Measured[] {
  return parts.map(({ nominal }) => ({ at: chainStart(nominal.outline), value }));
}

function checkSmallest({ parts }: InlayGeometry, settings: InlaySettings): CheckResult {
  const found = new LeastFinder(settings.leastPartAreaMm2);
  for (const { nominal } of parts.parts) {
    const holes = nominal.holes.reduce((sum, hole) => sum + signedArea(hole), 0);
    found.add(signedArea(nominal.outline) + holes, chainStart(nominal.outline));
    for (const hole of nominal.holes) found.add(-signedArea(hole), chainStart(hole));
  }
  return atLeast(
    {
      rule: "smallest-part",
      title: "Area of the smallest loose part",
      limit: settings.leastPartAreaMm2,
      unit: "mm2",
      note: "Smaller parts fall through the bed or are blown away by the air jet, and are hard to glue.",
    },
    found.finding,
    (worst) => growPitch(settings.ribbon, Math.sqrt(settings.leastPartAreaMm2 / worst)),
  );
}

/** Ground that an opening cuts free on all sides. A warning: it is kept and glued back. */
function checkLoose({ parts }: InlayGeometry): CheckResult {
  const islands = parts.parts.flatMap(({ opening }) => opening.holes.map(chainStart));
  const found: Finding = { worst: islands.length, short: islands.map((at) => ({ at, value: 1 })) };
  const result = atMost(
    {
      rule: "loose-ground",
      title: "Pieces of ground that an opening cuts free",
      limit: 0,
      unit: "count",
      note:
        islands.length === 0
          ? "All the ground stays in one piece."
          : "They drop out when the opening is cut: keep them in order and glue them on the backing inside their ribbon.",
    },
    found,
    () => [],
  );
  return result.verdict === "fail" ? { ...result, verdict: "warning" } : result;
}

function checkBed({ size, reach }: InlayGeometry, settings: InlaySettings): CheckResult {
  const { bedWidthMm, bedHeightMm } = settings;
  const overWidth = Math.max(0, reach.width - bedWidthMm);
  const overHeight = Math.max(0, reach.height - bedHeightMm);
  const over = Math.max(overWidth, overHeight);
  // A part never shrinks by more than the panel does: a first step, which proving takes further.
  const fitted = `${formatNumber(roundDown(size.width - overWidth, 1), 1)}x${formatNumber(roundDown(size.height - overHeight, 1), 1)}`;
  return atMost(
    {
      rule: "machine-bed",
      title: `How far the cuts reach over the machine's bed of ${formatNumber(bedWidthMm, 1)} x ${formatNumber(bedHeightMm, 1)} mm`,
      limit: 0,
      unit: "mm",
      note: "Ground panel and sheets of parts are cut one after another, each must lie on the bed.",
    },
    { worst: over, short: [{ at: { x: Math.min(size.width, bedWidthMm), y: 0 }, value: over }] },
    () =>
      Math.min(size.width - overWidth, size.height - overHeight) >= 1
        ? [{ change: "size", value: fitted, text: `finished size ${fitted} mm or less (--size ${fitted})` }]
        : [],
  );
}

function checkKerf({ kerfMeasured, kerfMm }: InlaySettings): CheckResult {
  return {
    rule: "kerf-measured",
    title: "Kerf measured on this machine and leather",
    verdict: kerfMeasured ? "pass" : "warning",
    measured: kerfMeasured ? 1 : 0,
    limit: 1,
    sense: "least",
    unit: "yes-no",
    count: kerfMeasured ? 0 : 1,
    places: [],
    remedies: kerfMeasured
      ? []
      : [
          {
            change: "kerf",
            value: kerfMm,
            text: "cut the test piece (plaitwright draft coupon), then give the kerf you measured with --kerf or in a profile of your own",
          },
        ],
    note: kerfMeasured
      ? `${formatNumber(kerfMm, 3)} mm, as measured.`
      : `${formatNumber(kerfMm, 3)} mm is a guess: kerf differs from shop to shop by half as much again, and the fit depends on it.`,
  };
}

function* allChains(shapes: readonly Shape[]): Iterable<ArcChain> {
  for (const { outline, holes } of shapes) {
    yield outline;
    yield* holes;
  }
}
