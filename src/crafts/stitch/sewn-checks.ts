/** The rules that hold for what is really sewn, measured on every stitch of the plan. */
import { formatNumber, roundDown, roundUp } from "../../base/format-number.ts";
import type { CheckResult, Remedy } from "../../checks/check.ts";
import { atLeast, atMost, LeastFinder, type Measured } from "../../checks/judge.ts";
import { setNumber } from "../../checks/remedy.ts";
import { distance, type Point } from "../../geometry/point.ts";
import { ROLES, STITCH, type ThreadBlock } from "../../output/stitches.ts";
import { denserThan, densityMap } from "./density-map.ts";
import type { StitchSettings } from "./settings.ts";
import { threadUse } from "./thread-use.ts";

/** Changes of the work in hand that shorten its longest stitches, and thin its stitches out. */
export interface SewnRemedies {
  /** The number of the profile that bounds stitches, such as the satin's split. */
  readonly lengthKey: string | undefined;
  /** The number that sets lines of thread apart, and its value. */
  readonly spacing: { readonly key: string; readonly mm: number } | undefined;
}

export function checkSewn(
  blocks: readonly ThreadBlock[],
  settings: StitchSettings,
  ways: SewnRemedies,
): CheckResult[] {
  return [
    checkLongest(blocks, settings, ways),
    checkShortest(blocks, settings),
    checkSpeed(blocks, settings, ways),
    checkDensity(blocks, settings, ways),
    checkBobbins(blocks, settings),
  ];
}

function checkLongest(
  blocks: readonly ThreadBlock[],
  { greatestStitchMm }: StitchSettings,
  { lengthKey }: SewnRemedies,
): CheckResult {
  const { worst, short } = longerThan(blocks, greatestStitchMm);
  return atMost(
    {
      rule: "longest-stitch",
      title: "Length of the longest stitch",
      limit: greatestStitchMm,
      unit: "mm",
      note: "Longer stitches snag, and machines split or refuse them.",
    },
    { worst, short },
    () => boundLength(lengthKey, greatestStitchMm),
  );
}

function boundLength(key: string | undefined, mm: number): Remedy[] {
  const value = roundDown(mm, 1);
  return key ? [setNumber(key, value, `stitches split at ${formatNumber(value, 1)} mm`)] : [];
}

/** Small stitches that tie the thread are meant to be small. */
function checkShortest(blocks: readonly ThreadBlock[], { leastStitchMm }: StitchSettings): CheckResult {
  const found = new LeastFinder(leastStitchMm);
  const tie = ROLES.indexOf("tie");
  forEachStitch(blocks, (from, to, role) => {
    if (role !== tie) found.add(distance(from, to), middle(from, to));
  });
  return atLeast(
    {
      rule: "shortest-stitch",
      title: "Length of the shortest stitch, those that tie the thread left out",
      limit: leastStitchMm,
      unit: "mm",
      note: "At shorter stitches the needle strikes its last hole again: thread breaks and cloth is cut.",
    },
    found.finding,
    (worst) => {
      const value = roundDown(worst, 2);
      return value >= SHORTEST_TRIED_MM
        ? [
            setNumber(
              "leastStitchMm",
              value,
              `a least stitch of ${formatNumber(value, 2)} mm, tried out first`,
            ),
          ]
        : [];
    },
  );
}

/** Three steps of the record; shorter than that nobody should try. */
const SHORTEST_TRIED_MM = 0.3;

/** Never more than a warning: the machine can be slowed. */
function checkSpeed(
  blocks: readonly ThreadBlock[],
  { slowOverMm, stitchesPerMinute }: StitchSettings,
  { lengthKey }: SewnRemedies,
): CheckResult {
  const { worst, short } = longerThan(blocks, slowOverMm);
  const speed = Math.floor((stitchesPerMinute * slowOverMm) / Math.max(worst ?? 0, slowOverMm));
  const result = atMost(
    {
      rule: "slow-stitches",
      title: `Stitches longer than ${formatNumber(slowOverMm, 1)} mm, at which the machine must go slower`,
      limit: 0,
      unit: "count",
      note: `At the longest the hoop keeps up with about ${speed} stitches a minute; machines that do not slow by themselves are set to that.`,
    },
    { worst: short.length, short },
    () => [
      setNumber("stitchesPerMinute", speed, `${speed} stitches a minute`),
      ...boundLength(lengthKey, slowOverMm),
    ],
  );
  return warned(result);
}

function checkDensity(
  blocks: readonly ThreadBlock[],
  { greatestPerMm2 }: StitchSettings,
  { spacing }: SewnRemedies,
): CheckResult {
  const map = densityMap(blocks);
  return atMost(
    {
      rule: "hole-density",
      title: "Needle holes in a square millimetre, over any square of 2 mm",
      limit: greatestPerMm2,
      unit: "per-mm2",
      note: "More holes cut the cloth and break thread and needles.",
    },
    { worst: map.worst, short: denserThan(map, greatestPerMm2) },
    (worst) => {
      if (!spacing) return [];
      const value = roundUp((spacing.mm * worst) / greatestPerMm2, 2);
      return [setNumber(spacing.key, value, `lines of thread ${formatNumber(value, 2)} mm apart`)];
    },
  );
}

function checkBobbins(blocks: readonly ThreadBlock[], settings: StitchSettings): CheckResult {
  const { bobbins, bobbinMm, stitches } = threadUse(blocks, settings);
  const metres = Math.ceil(bobbinMm / 1000);
  const result = atMost(
    {
      rule: "bobbins",
      title: "Bobbins for the whole job",
      limit: 1,
      unit: "count",
      note: `${stitches} stitches want about ${metres} m of bobbin thread; a full bobbin holds ${formatNumber(settings.bobbinMetres, 1)} m. Wind them before you begin, and change at a trim.`,
    },
    { worst: bobbins, short: [] },
    () => [setNumber("bobbinMetres", metres, `bobbins that hold ${metres} m, or ${bobbins} of those named`)],
  );
  return warned(result);
}

function warned(result: CheckResult): CheckResult {
  return result.verdict === "fail" ? { ...result, verdict: "warning" } : result;
}

function longerThan(blocks: readonly ThreadBlock[], limitMm: number) {
  let worst: number | null = null;
  const short: Measured[] = [];
  forEachStitch(blocks, (from, to) => {
    const value = distance(from, to);
    worst = Math.max(worst ?? 0, value);
    if (value > limitMm + LENGTH_SLACK_MM) short.push({ at: middle(from, to), value });
  });
  return { worst: worst as number | null, short };
}

/** Well under a step of the record. */
const LENGTH_SLACK_MM = 1e-3;

function forEachStitch(
  blocks: readonly ThreadBlock[],
  visit: (from: Point, to: Point, role: number) => void,
): void {
  for (const { x, y, kind, role } of blocks) {
    for (let i = 1; i < kind.length; i++) {
      if (kind[i] !== STITCH) continue;
      visit({ x: x[i - 1] ?? 0, y: y[i - 1] ?? 0 }, { x: x[i] ?? 0, y: y[i] ?? 0 }, role[i] ?? 0);
    }
  }
}

function middle(a: Point, b: Point): Point {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}
