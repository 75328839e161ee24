/**
 * The words of every fault: the place first, then what was found, what is allowed, and what
 * would mend it. The only place that words faults; tests assert codes, and one golden these.
 */
import { characterName, readable } from "./character-name.ts";
import type {
  Counted,
  DrawnPlace,
  Fault,
  FaultFacts,
  JsonProblem,
  OtherBends,
  PanelPlace,
  PlaceMm,
  Where,
  WouldDo,
} from "./fault.ts";
import { formatMm, formatNumber, roundUp } from "./format-number.ts";
import { nearestWord } from "./nearest.ts";

/** One fault as a message for people: one or two sentences, led by the place. */
export function explain(fault: Fault): string {
  const where = placeOf(fault);
  const words = wordsOf(fault);
  return where === "" ? upperFirst(words) : `${where}: ${words}`;
}

function placeOf(fault: Fault): string {
  const { file, line, column } = fault;
  const parts: string[] = [];
  if (file !== undefined) parts.push(readable(file, 200));
  if (line !== undefined)
    parts.push(column === undefined ? `line ${line}` : `line ${line}, column ${column}`);
  const inside = "placeColumn" in fault ? `panel ${place(fault)} (counted from 0)` : pathWords(fault);
  if (inside !== "") parts.push(inside);
  return parts.join(", ");
}

/** A path as people write it: `ribbon.width`, `pitch[0]`; rows of the panel by their number. */
function pathWords({ path = [] }: Where): string {
  const [first, row] = path;
  if (first === "panel" && typeof row === "number") return `panel row ${row} (counted from 0)`;
  const words = path.map((step, index) => {
    if (typeof step === "number") return `[${step}]`;
    const name = readable(step, 40);
    return index === 0 ? name : `.${name}`;
  });
  return words.length === 0 ? "" : `\`${words.join("")}\``;
}

function wordsOf(fault: FaultFacts): string {
  switch (fault.code) {
    case "file-unreadable":
      return `the file cannot be read: ${fault.reason}.`;
    case "file-too-large":
      return `the file holds ${number(fault.megabytes)} MB, and ${number(fault.most)} MB is the most that is read.`;
    case "not-utf8":
      return "the file is not text in UTF-8. Save it again as UTF-8 (most editors offer this under “Save as”).";
    case "not-json":
      return jsonWords(fault.problem, fault.found);
    case "nested-too-deep":
      return `brackets nest deeper than ${fault.most} here; no file of ours does. Look for brackets that were never closed.`;
    case "cannot-write":
      return `cannot write: ${fault.reason}.`;
    case "not-our-folder":
      return `this folder is not replaced: ${fault.reason}. Name a new folder, an empty one, or that of an earlier job.`;
    case "unknown-key":
      return `${code(fault.found)} is not known here. ${suggestion(fault.found, fault.known)}`;
    case "missing-key":
      return `${code(fault.key)} is missing${fault.meaning === undefined ? "" : ` (${lowerFirst(fault.meaning)})`}. Add it.`;
    case "doubled-key":
      return `${code(fault.found)} is given twice in the same group. Take one of them away.`;
    case "wrong-kind":
      return `found ${readable(fault.found)}, where ${fault.wanted} is wanted.${kindHint(fault.found, fault.wanted)}`;
    case "unknown-word":
      return `${quote(fault.found)} is not one of the words that may stand here. ${suggestion(fault.found, fault.known)}`;
    case "number-out-of-range":
      return `found ${withUnit(fault.found, fault.unit)}. ${rangeWords(fault)}`;
    case "wrong-version":
      return `this file is of format version ${readable(fault.found)}, and this program reads version ${fault.known}. Write ${fault.known}, or use a program that knows the other version.`;
    case "unsafe-name":
      return `${quote(fault.found)} cannot be a name. Use small letters, digits and single hyphens, and begin with a letter, for example \`my-leather\`.`;
    case "control-character":
      return `the text holds ${unprintable(fault.found)}, which cannot be printed in one line. Take it out.`;
    case "too-long":
      return `found ${counted(fault.length, fault.of)}, and ${number(fault.most)} is the most.`;
    case "too-short":
      return fault.length === 0 && fault.least === 1
        ? `this is empty; at least ${counted(1, fault.of)} must stand here.`
        : `found ${counted(fault.length, fault.of)}, and ${number(fault.least)} is the least.`;
    case "no-piece":
      return `nothing to draw: a design needs ${listed(fault.known, "or")}. Add it.`;
    case "several-pieces":
      return `${listed(fault.found, "and")} stand side by side, and a design has only one of them. Keep one.`;
    case "profile-unknown":
      return `there is no profile ${quote(fault.found)}. ${suggestion(fault.found, fault.known)}`;
    case "craft-unknown":
      return `the craft ${quote(fault.found)} is not known. ${suggestion(fault.found, fault.known)}`;
    case "range-reversed":
      return `the range runs from ${number(fault.least)} down to ${number(fault.greatest)}. Write the smaller number first.`;
    case "numbers-clash":
      return `${fault.reason}.`;
    case "option-not-for-craft":
      return `${code(fault.option)} means nothing for the craft ${quote(fault.craft)}. Leave it out.`;
    case "panel-empty":
      return "the panel has no cell. The smallest is three rows: `+-+`, `|o|`, `+-+`.";
    case "panel-character":
      return `found ${characterName(fault.found)}, which no panel has${fault.lookalike === undefined ? "" : `; write ${characterName(fault.lookalike)}, which it looks like`}. A panel is drawn with \`+\`, \`o\`, \`x\`, \`-\`, \`|\` and spaces.`;
    case "panel-dot":
      return `found ${characterName(fault.found)} on the place of a dot. Write ${code(fault.wanted)}, or leave it blank where the panel has a hole.`;
    case "panel-open-site":
      return `found ${fault.found === " " ? "nothing" : characterName(fault.found)} on a site inside the panel. Write \`x\` where the strands cross, or \`-\` or \`|\` where both turn back.`;
    case "panel-edge-site":
      return `found ${characterName(fault.found)} on the edge of the panel. Write ${code(fault.wanted)}, or leave it blank.`;
    case "panel-stray":
      return `found ${characterName(fault.found)} outside the panel: no two neighbouring dots hold it. Leave it blank, or add the dots round it.`;
    case "panel-corner-site":
      return `a corner of the panel falls on this place, so a strand would run into it. ${dotWords(fault.add, fault.remove)}`;
    case "fuse-overlap":
      return `the panel of ${code(fault.part)} has another mark at ${place(fault)} of the fused panel than the one laid before it. Move it, or write the same mark in both.`;
    case "fuse-not-shared":
      return `no two panels share an edge at ${place(fault)}. Places that can open: ${fault.shared.map(place).join("; ")}.`;
    case "fuse-not-panel":
      return `only panels are fused, and ${code(fault.found)} is none.`;
    case "fuse-off-lattice":
      return `${code(fault.part)} lies at [${fault.at.map(number).join(", ")}], off the lattice. Panels are fused at whole cells, or half a cell off both across and down.`;
    case "piece-unknown":
      return `there is no piece ${code(fault.found)}. ${suggestion(fault.found, fault.known)}`;
    case "name-twice":
      return `two entries of the layout are called ${code(fault.found)}. Give one another name.`;
    case "not-beside":
      return `${quote(fault.found)} is not the plain name of a ${code(`*${fault.ending}`)} file. Put the file into the same folder, and give its name alone.`;
    case "include-unreadable":
      return `the included file ${code(fault.included)} cannot be read: ${fault.reason}.`;
    case "include-cycle":
      return `${code(fault.included)} is included here, and itself includes this file, at once or by way of others. Take one of the two includes away.`;
    case "include-too-many":
      return `with this one more than ${number(fault.most)} files are included, one by way of another. Include fewer.`;
    case "include-same-name":
      return `${code(fault.included)} brings a piece ${code(fault.found)}, and there is one of that name already. Rename one, or include the file under another name.`;
    case "include-no-piece":
      return `the included file ${code(fault.included)} has no piece ${code(fault.found)}. ${suggestion(fault.found, fault.known)}`;
    case "design-twice":
      return `${code(fault.found)} would be written to the folder ${code(fault.folder)}, and so would a design before it. Take one away, or rename it.`;
    case "pieces-overlap":
      return `strands of ${code(fault.a)} and ${code(fault.b)} meet at ${atMm(fault)} from the lower left. Move one of them.`;
    case "no-outer-bend":
      return `${code(fault.piece)} has no bend on its outside that could be tied here.`;
    case "same-part":
      return `${code(fault.a)} and ${code(fault.b)} are one part already: a tie joins two.`;
    case "bends-not-facing":
      return `${pastWords(fault.a, fault.b, Math.round(fault.angleDeg))}; 35 is the most. ${otherBends(fault, "Name other bends, or turn a piece.")}`;
    case "bend-no-legs":
      return `the strand at ${atMm(fault)} from the lower left does not lead outward, so it cannot be tied there. ${otherBends(fault, "Name a neighbouring bend.")}`;
    case "bends-too-near":
      return `${nearWords(fault.a, fault.b, fault.haveMm)}; this tie needs ${formatMm(roundUp(fault.needMm, 2))}. ${otherBends(fault, "Move the pieces apart.")}`;
    case "tie-in-the-way":
      return `the tie would come too near to ${strandWords(fault.piece)} at ${atMm(fault)} from the lower left. ${otherBends(fault, "Name other bends, or move the pieces.")}`;
    case "hands-differ":
      return `${code(fault.a)} lies in hand ${fault.handA} and ${code(fault.b)} in hand ${fault.handB}, so they cannot be woven alternately as they are. Mirror ${code(fault.b)}, give its piece hand ${fault.handB === "Z" ? "S" : "Z"}, or take "match": "exchange".`;
    case "stretch-composed":
      return "only a design of one panel can be stretched: its pieces would turn and bend out of shape. Give one pitch.";
    case "panel-seam":
      return `found ${characterName(fault.found)} on the seam, where the row begins with ${characterName(fault.wanted)}: the last column of a ring repeats its first. Write ${code(fault.wanted)} in both, or leave the last column out.`;
    case "ring-hub-dot":
      return `the dot ${code(fault.wanted)} is missing on the inner edge, and a hub needs all of them. Add it, or take the hub away.`;
    case "ring-repeats":
      return `the ring is ${counted(fault.found, "cells")} round; it needs ${number(fault.least)} or more.`;
    case "bend-too-small":
      return `with an inner radius of ${withUnit(fault.innerMm, "mm")} the strands turn too tightly for the ribbon. ${fault.leastMm === undefined ? "A larger one does not help: make the ribbon narrower, or the pitch larger." : `It can turn from ${withUnit(fault.leastMm, "mm")} on; or make the ribbon narrower.`}`;
    case "not-xml":
      return `the file is not well-formed XML: ${lowerFirst(readable(fault.found.replace(/\.$/, ""), 100))}. Export it again from the drawing program.`;
    case "not-svg":
      return `found the element ${code(fault.found)}, where an SVG file begins with \`svg\`.`;
    case "svg-entities":
      return "the file defines entities of its own, and such files are not read. Export it as plain SVG.";
    case "svg-too-deep":
      return `groups nest deeper than ${fault.most} here. Ungroup the drawing, and export it again.`;
    case "svg-element":
      return svgElementWords(fault.element);
    case "svg-attribute":
      return `${code(fault.attribute)} of ${code(fault.element)} holds ${quote(fault.found)}, where ${fault.wanted} is wanted.`;
    case "drawing-too-large":
      return `this reaches ${withUnit(fault.reachMm, "mm")} from the drawing's origin, and ${withUnit(fault.mostMm, "mm")} is the most. Check its units and transforms.`;
    case "drawing-too-rich":
      return `the drawing has more than ${number(fault.most)} ${fault.of}, and that is the most that is read. Divide it.`;
    case "drawing-empty":
      return "nothing to draw: the file holds no path, line or shape that can be seen.";
    case "strand-open":
      return `a strand ends at ${drawn(fault)}, and every strand has to close. Draw it on to the next end; ends closer than ${withUnit(fault.joinMm, "mm")} are joined.`;
    case "strand-branch":
      return `three or more ends meet at ${drawn(fault)}, so it is open which of them go on into each other. Leave two.`;
    case "strands-touch":
      return `strands touch without crossing at ${drawn(fault)}. Draw them across each other or further apart.`;
    case "strands-overlap":
      return `strands run on top of each other at ${drawn(fault)}. Move one, or take away what is drawn twice.`;
    case "crossing-flat":
      return `strands cross at only ${withUnit(fault.angleDeg, "degrees")} at ${drawn(fault)}, and ${withUnit(fault.leastDeg, "degrees")} is the least. Let them cross more steeply.`;
    case "crossings-crowd":
      return `three strands pass through one place, or two crossings lie closer than ${withUnit(fault.leastMm, "mm")}, at ${drawn(fault)}. Move one strand aside.`;
    case "more-places":
      return `and ${number(fault.count)} more ${fault.count === 1 ? "place" : "places"} like these.`;
    case "strands-unclear":
      return "the strands come so near to each other somewhere that it is unclear what crosses what. Move them apart.";
    case "bend-too-large":
      return `the outer edge would lie ${withUnit(fault.outerMm, "mm")} from the centre, and ${withUnit(fault.mostMm, "mm")} is the most: outward the rows grow in proportion. Take fewer rows, or more cells round.`;
    case "graph-empty":
      return "the graph has no point. Add some, and lines between them.";
    case "graph-no-point":
      return `there is no point ${number(fault.found)}. ${fault.points === 1 ? "The only point is number 0" : `The points are numbered 0 to ${fault.points - 1}`}.`;
    case "graph-loop-line":
      return `line ${fault.graphLine} runs from point ${fault.point} to itself. Let it end at another point, or put a point on its way.`;
    case "graph-coincident-points":
      return `points ${fault.first} and ${fault.second} lie at one place, ${atMm(fault)}. Make them one point, or move one.`;
    case "graph-point-on-line":
      return `line ${fault.graphLine} runs through point ${fault.point} at ${atMm(fault)}. Make two lines of it that end there, or move the point.`;
    case "graph-crossing-lines":
      return `lines ${fault.first} and ${fault.second} meet at ${atMm(fault)}. Lines may meet at their ends only: put a point there, or move one of them.`;
    case "graph-double-line":
      return `lines ${fault.first} and ${fault.second} are the same. Take one away, or make one an arc.`;
    case "bad-option":
      return `the option ${code(fault.option)} got ${quote(fault.found)}, and wants ${fault.wanted}.`;
    case "size-impossible":
      return `the size ${quote(fault.found)} cannot be had: ${fault.reason}.`;
    case "too-big-for-memory":
      return `the design has ${number(fault.crossings)} crossings and needs about ${number(fault.needsMb)} MB of memory, but ${number(fault.hasMb)} MB is at hand. Divide it, or give the program more memory.`;
  }
}

function jsonWords(problem: JsonProblem, found: string): string {
  switch (problem) {
    case "empty":
      return "the file is empty.";
    case "ends-early":
      return "the text ends too early: a value or a closing bracket is missing. Is the file complete?";
    case "text-after-end":
      return `${quote(found)} follows after the closing bracket of the whole. Take it away.`;
    case "comment":
      return "comments cannot stand in plain JSON. Take this one out.";
    case "comma-missing":
      return `a comma is missing before ${quote(found)}.`;
    case "comma-extra":
      return "a comma too many: no value stands beside it. Take it away.";
    case "colon-missing":
      return `a colon is missing between the key and ${quote(found)}.`;
    case "value-missing":
      return `a value is missing before ${quote(found)}.`;
    case "key-expected":
      return `a key in double quotes must stand here, not ${quote(found)}.${/^\d/.test(found) ? " Decimals are written with a point, for example 4.2." : ""}`;
    case "bracket-wrong":
      return `${quote(found)} does not close the bracket that is open here.`;
    case "unknown-word":
      return `${oddCharacterName(found) ?? quote(found)} cannot stand here. Keys and texts stand in straight double quotes: "…".`;
    case "number-wrong":
      return `${quote(found)} is not a number as JSON writes it, for example 12 or 0.8 or -0.05.`;
    case "string-open":
      return "the double quotes opened here are not closed on the same line.";
    case "string-character":
      return `${characterName(found)} stands inside double quotes. Use spaces instead.`;
    case "escape-wrong":
      return `a backslash in ${quote(found)} begins no known sign. Write \\\\ for one backslash.`;
    case "other":
      return "the text is not JSON.";
  }
}

function svgElementWords(element: string): string {
  switch (element) {
    case "use":
      return "`use` repeats another element, and is not followed. Turn clones into real copies, and export again.";
    case "script":
      return "the file holds a script, and such files are not read. Export it as plain SVG.";
    default:
      return `found ${code(element)} inside the drawing, which is not read there. Ungroup it, and export again.`;
  }
}

/** A place on a drawing, as one would measure it. */
function drawn({ xMm, yMm, otherLine }: DrawnPlace): string {
  const other = otherLine === undefined ? "" : ` (the other is drawn in line ${otherLine})`;
  return `${formatNumber(xMm, 2)} mm from the left and ${formatNumber(yMm, 2)} mm from the bottom of the drawing${other}`;
}

function suggestion(found: string, known: readonly string[]): string {
  const nearest = nearestWord(found, known);
  if (nearest !== undefined) return `Did you mean ${code(nearest)}?`;
  return known.length === 0
    ? "Take it away."
    : `Known ${known.length === 1 ? "is" : "are"} ${listed(known, "and")}.`;
}

function rangeWords({ least, greatest, unit }: { least?: number; greatest?: number; unit: string }): string {
  if (least !== undefined && greatest !== undefined) {
    return `Allowed is ${number(least)} to ${withUnit(greatest, unit)}.`;
  }
  if (least !== undefined) return `Allowed is ${withUnit(least, unit)} or more.`;
  return greatest === undefined
    ? "Give an ordinary number."
    : `Allowed is ${withUnit(greatest, unit)} or less.`;
}

/** Numbers and texts are mixed up most often by a pair of quotes. */
function kindHint(found: string, wanted: string): string {
  const inner = /^"(.*)"$/.exec(found)?.[1];
  if (inner === undefined || !wanted.includes("a number")) return "";
  return /^-?\d+(\.\d+)?$/.test(inner)
    ? ` Write ${inner} without the quotes.`
    : " Write the number alone, without unit and quotes, and with a point for decimals.";
}

/** The first character that no JSON word has: curly quotes from a word processor, spaces of other kinds … */
function oddCharacterName(text: string): string | undefined {
  const odd = /[^!-~]/u.exec(text)?.[0];
  return odd === undefined ? undefined : characterName(odd);
}

function unprintable(text: string): string {
  const odd = /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\uFFFE\uFFFF]/u.exec(text)?.[0];
  return characterName(odd ?? text);
}

/** Ways to mend a corner: any one of the dots will do. */
function dotWords(add: readonly PanelPlace[], remove: readonly PanelPlace[]): string {
  const ways = [
    ...(add.length > 0 ? [`add ${dots(add)}`] : []),
    ...(remove.length > 0 ? [`take away ${dots(remove)}`] : []),
  ];
  return upperFirst(`${ways.join("; or ")}.`);
}

function dots(places: readonly PanelPlace[]): string {
  // Dots of even rows are written +, those of odd rows o.
  const words = places.map((dot) => `the dot \`${dot.row % 2 === 0 ? "+" : "o"}\` at ${place(dot)}`);
  return joined(words, "or");
}

function place({ row, placeColumn }: PanelPlace): string {
  return `row ${row}, column ${placeColumn}`;
}

function pastWords(a: string, b: string | undefined, angleDeg: number): string {
  return b === undefined
    ? `the bend of ${code(a)} looks ${angleDeg} degrees past the middle`
    : `the bends of ${code(a)} and ${code(b)} look ${angleDeg} degrees past each other`;
}

function nearWords(a: string, b: string | undefined, haveMm: number): string {
  return b === undefined
    ? `the bend of ${code(a)} lies ${formatMm(haveMm)} from the middle`
    : `the bends of ${code(a)} and ${code(b)} lie ${formatMm(haveMm)} apart between their legs`;
}

/** A strand of a piece, or one that a join has made. */
function strandWords(piece: string | undefined): string {
  return piece === undefined ? "an earlier tie" : `a strand of ${code(piece)}`;
}

/** What to do about a bend, and the ones that would do. */
function otherBends({ wouldDo = [], wouldDoTogether = [] }: OtherBends, remedy: string): string {
  const told = (bends: readonly WouldDo[]) =>
    bends.map(
      (bend) =>
        `${code(bend.piece)} near [${bend.near.map((cells) => formatNumber(cells, 2)).join(", ")}], which is ${atMm(bend)}`,
    );
  if (wouldDo.length > 0) return `${remedy} Bends that would do: ${joined(told(wouldDo), "or")}.`;
  if (wouldDoTogether.length === 0) return remedy;
  return `${remedy} Bends that would do together: ${joined(told(wouldDoTogether), "and")}.`;
}

function atMm({ atMm: { x, y } }: PlaceMm): string {
  return `(${formatNumber(x, 2)}, ${formatNumber(y, 2)}) mm`;
}

function counted(count: number, of: Counted): string {
  const one = of === "entries" ? "entry" : of.slice(0, -1);
  return `${number(count)} ${count === 1 ? one : of}`;
}

function withUnit(value: number, unit: string): string {
  const words = unit === "mm2" ? "mm²" : unit;
  if (!Number.isFinite(value)) return "a number too large for any use";
  return words === "" ? number(value) : `${number(value)} ${words}`;
}

/** Plain digits where people read them as such; the shortest form for the very large and small. */
function number(value: number): string {
  const size = Math.abs(value);
  return value === 0 || (size >= 1e-4 && size < 1e12) ? formatNumber(value, 6) : String(value);
}

function listed(words: readonly string[], last: "and" | "or"): string {
  return joined(words.map(code), last);
}

function joined(words: readonly string[], last: "and" | "or"): string {
  const end = words.at(-1) ?? "";
  return words.length < 2 ? end : `${words.slice(0, -1).join(", ")} ${last} ${end}`;
}

function code(text: string): string {
  return `\`${readable(text, 40)}\``;
}

function quote(text: string): string {
  return text === "" ? "nothing" : `“${readable(text)}”`;
}

function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
