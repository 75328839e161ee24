/**
 * What a stitch plan uses: stitches, thread above and below, time. All of it is common practice
 * without a published source; a fifth more thread than planned is what the chart should ask for.
 *
 * Lockstitch. At every hole the upper thread goes down and comes up again, TAKE_UP_MM in all:
 *   upper = sum of stitches + holes * TAKE_UP_MM + threads cut * TAIL_MM.
 * The bobbin thread runs straight from lock to lock. Satin is sewn so that a third of its width
 * shows the bobbin thread on the back, for the upper thread is drawn round the edges:
 *   bobbin = (sum of cover stitches) / 3 + sum of all others + threads cut * TAIL_MM.
 * Time. A stitch takes a turn of the machine, at a speed that falls as its length grows past what
 * may be sewn at full speed; jumps take a turn for each step of the record.
 */
import { JUMP, ROLES, STITCH, type ThreadBlock, TRIM } from "../../output/stitches.ts";
import type { StitchSettings } from "./settings.ts";

/** Down through cloth and stabiliser and up again, some 0.6 mm each way. */
export const TAKE_UP_MM = 1.2;
/** Drawn out before the first stitch and left over at the cut, for each thread that is cut. */
export const TAIL_MM = 40;
/** Of the length of satin, on the back. */
const BOBBIN_SHARE = 1 / 3;
/** The longest move of one turn. */
const JUMP_STEP_MM = 12.1;
const TRIM_SECONDS = 8;
/** Threading another colour, by hand. */
const CHANGE_SECONDS = 60;

export interface ThreadUse {
  readonly stitches: number;
  readonly jumps: number;
  readonly trims: number;
  readonly upperMm: number;
  readonly bobbinMm: number;
  /** By the thread's linear density (ISO 1144: tex is g per 1000 m). */
  readonly upperGrams: number;
  readonly bobbinGrams: number;
  readonly minutes: number;
}

export interface PlanUse extends ThreadUse {
  /** In the order of the plan. */
  readonly blocks: readonly ThreadUse[];
  readonly bobbins: number;
}

export function threadUse(blocks: readonly ThreadBlock[], settings: StitchSettings): PlanUse {
  const each = blocks.map((block) => blockUse(block, settings));
  const sum = (pick: (use: ThreadUse) => number) => each.reduce((total, use) => total + pick(use), 0);
  const bobbinMm = sum((use) => use.bobbinMm);
  const changes = Math.max(0, blocks.length - 1);
  return {
    stitches: sum((use) => use.stitches),
    jumps: sum((use) => use.jumps),
    trims: sum((use) => use.trims),
    upperMm: sum((use) => use.upperMm),
    bobbinMm,
    upperGrams: sum((use) => use.upperGrams),
    bobbinGrams: sum((use) => use.bobbinGrams),
    minutes: sum((use) => use.minutes) + (changes * CHANGE_SECONDS) / 60,
    blocks: each,
    bobbins: Math.ceil(bobbinMm / (1000 * settings.bobbinMetres)),
  };
}

/** The mass of `lengthMm` of thread. */
export function threadGrams(lengthMm: number, tex: number): number {
  return (lengthMm / 1e6) * tex;
}

function blockUse({ thread, x, y, kind, role }: ThreadBlock, settings: StitchSettings): ThreadUse {
  const cover = ROLES.indexOf("cover");
  const count = { [STITCH]: 0, [JUMP]: 0, [TRIM]: 0 };
  let [sewnMm, coverMm, turns] = [0, 0, 0];
  for (let i = 0; i < kind.length; i++) {
    const how = kind[i];
    const length = i === 0 ? 0 : Math.hypot((x[i] ?? 0) - (x[i - 1] ?? 0), (y[i] ?? 0) - (y[i - 1] ?? 0));
    if (how === STITCH) {
      count[STITCH]++;
      sewnMm += length;
      if (role[i] === cover) coverMm += length;
      turns += Math.max(1, length / settings.slowOverMm);
    } else if (i > 0) {
      // A block's first point is where the thread begins: nothing is cut there.
      count[how === TRIM ? TRIM : JUMP]++;
      turns += Math.max(1, Math.ceil(length / JUMP_STEP_MM));
    }
  }
  const threads = kind.length > 0 ? count[TRIM] + 1 : 0;
  const upperMm = sewnMm + count[STITCH] * TAKE_UP_MM + threads * TAIL_MM;
  const bobbinMm = coverMm * BOBBIN_SHARE + (sewnMm - coverMm) + threads * TAIL_MM;
  return {
    stitches: count[STITCH],
    jumps: count[JUMP],
    trims: count[TRIM],
    upperMm,
    bobbinMm,
    upperGrams: threadGrams(upperMm, thread.tex),
    bobbinGrams: threadGrams(bobbinMm, settings.bobbinTex),
    minutes: turns / settings.stitchesPerMinute + (count[TRIM] * TRIM_SECONDS) / 60,
  };
}
