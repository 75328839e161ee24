/**
 * Blocks of thread: which colours are put in, in which order, and which units each block sews. A
 * colour that comes twice sews first what must lie beneath others, and last all the rest: what is
 * left without cover longest joins what is sewn late, and hides the needle's way. Only patches
 * that would stand alone at the end come forward, where they can.
 */
import type { StitchColours } from "./settings.ts";
import { type Beneath, singleColours } from "./single-colours.ts";
import { isBeneath, type SewUnit, type SewUnits, sectionsBeneath } from "./units.ts";

export interface ColourBlocks {
  /** The colour of each block. Neighbours of one colour are sewn with one thread. */
  readonly colours: readonly number[];
  readonly blockOf: Int32Array;
  readonly leastChanges: number;
}

/** The number of the thread that a strand is sewn with. */
export function colourOf(strand: number, colours: StitchColours): number {
  return colours === "one" ? 0 : colours === "two" ? strand % 2 : strand;
}

/** The ways to deal units out to blocks that are worth comparing; all have the same colours in the same order. */
export function colourBlocks(units: SewUnits, colours: StitchColours): readonly ColourBlocks[] {
  const colourOfUnit = units.list.map(({ strand }) => colourOf(strand, colours));
  const used = [...new Set(colourOfUnit)].sort((a, b) => a - b);
  const index = new Map(used.map((colour, i) => [colour, i]));
  const own = colourOfUnit.map((colour) => index.get(colour) ?? 0);
  const { once, mostOnce } = singleColours(crossingsBeneath(units, own, used.length));
  const twice = [...used.keys()].filter((colour) => !once.includes(colour));
  const turns = [...twice, ...once, ...twice];
  const span = new Map<number, Span>();
  for (const [turn, colour] of turns.entries())
    span.set(colour, { first: span.get(colour)?.first ?? turn, last: turn });
  const spans = own.map((colour) => span.get(colour) ?? { first: 0, last: 0 });
  const late = sewnLate(units, spans);
  const dealt = twice.length === 0 ? [late] : [late, broughtForward(units, spans, late)];
  return dealt.map((turnOf) =>
    numbered(
      units,
      turnOf,
      turns.map((turn) => used[turn] ?? 0),
      Math.max(0, 2 * used.length - mostOnce - 1),
    ),
  );
}

/** The first and the last turn of a colour. */
interface Span {
  readonly first: number;
  readonly last: number;
}

function crossingsBeneath(units: SewUnits, own: readonly number[], count: number): Beneath {
  const beneath = Array.from({ length: count }, () => new Set<number>());
  for (const [patch, unit] of units.list.entries()) {
    for (const { unit: section } of sectionsBeneath(unit)) {
      const [over, under] = [own[patch] ?? 0, own[section] ?? 0];
      if (over !== under) beneath[under]?.add(over);
    }
  }
  return beneath;
}

/** Everything in its colour's last turn, but sections that something sewn earlier lies over. */
function sewnLate(units: SewUnits, spans: readonly Span[]): Int32Array {
  return Int32Array.from(units.list, (unit, number) => {
    const { first, last } = spans[number] ?? { first: 0, last: 0 };
    const waits = unit.joints.every((joint) => !isBeneath(joint) || last <= (spans[joint.unit]?.last ?? 0));
    return waits ? last : first;
  });
}

/** Patches whose neighbours along the ribbon are all sewn in the first turn join them if nothing beneath them waits. */
function broughtForward(units: SewUnits, spans: readonly Span[], late: Int32Array): Int32Array {
  const turnOf = late.slice();
  for (const [number, unit] of units.list.entries()) {
    if (unit.kind !== "patch") continue;
    const first = spans[number]?.first ?? 0;
    const beneath = sectionsBeneath(unit);
    const seams = unit.joints.slice(0, unit.joints.length - beneath.length);
    if (!seams.every((joint) => late[joint.unit] === first)) continue;
    if (beneath.every((joint) => (late[joint.unit] ?? 0) <= first)) turnOf[number] = first;
  }
  return turnOf;
}

/**
 * Turns numbered as blocks, empty ones left out. Sections that lie beneath two patches of their own
 * turn, which no alternating weave has, get a block before it: no tree holds both patches above them.
 */
function numbered(
  units: SewUnits,
  turnOf: Int32Array,
  turns: readonly number[],
  leastChanges: number,
): ColourBlocks {
  const slots = units.list.map((unit, number) => {
    const turn = turnOf[number] ?? 0;
    return 2 * turn + (isTwiceBeneath(unit, turnOf, turn) ? 0 : 1);
  });
  const used = [...new Set(slots)].sort((a, b) => a - b);
  const blockAt = new Map(used.map((slot, block) => [slot, block]));
  const colours = used.map((slot) => turns[slot >> 1] ?? 0);
  return {
    colours,
    blockOf: Int32Array.from(slots, (slot) => blockAt.get(slot) ?? 0),
    leastChanges,
  };
}

function isTwiceBeneath(unit: SewUnit, turnOf: Int32Array, turn: number): boolean {
  return unit.joints.filter((joint) => isBeneath(joint) && turnOf[joint.unit] === turn).length > 1;
}
