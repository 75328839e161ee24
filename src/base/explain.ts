/**
 * The words of every fault: the place first, then what was found, what is allowed, and what
 * would mend it. The only place that words faults; tests assert codes, and one golden these.
 */
import { characterName, readable } from "./character-name.ts";
import type { Counted, Fault, FaultFacts, JsonProblem, PanelPlace, Where } from "./fault.ts";
import { formatNumber } from "./format-number.ts";
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
    case "not-yet":
      return `${code(fault.feature)} is part of the format, but this version does not draw it yet. Use one \`panel\` instead.`;
    case "profile-unknown":
      return `there is no profile ${quote(fault.found)}. ${suggestion(fault.found, fault.known)}`;
    case "craft-unknown":
      return `the craft ${quote(fault.found)} is not known. ${suggestion(fault.found, fault.known)}`;
    case "range-reversed":
      return `the range runs from ${number(fault.least)} down to ${number(fault.greatest)}. Write the smaller number first.`;
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

function counted(count: number, of: Counted): string {
  const one = of === "characters" ? "character" : "entry";
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
