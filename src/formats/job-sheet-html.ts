/**
 * The job sheet as one HTML file that needs nothing else: style and picture stand within, no
 * scripts, no requests. It is also well-formed XML, so that any XML reader can check it.
 * What goes wrong comes first, what passed comes last.
 */
import type { JobSheet, SheetCheck, SheetTable } from "../output/job-sheet.ts";
import type { Picture } from "../output/picture.ts";
import { JOB_SHEET_STYLE } from "./job-sheet-style.ts";
import { pictureElement } from "./picture-svg.ts";
import { xmlText } from "./xml-text.ts";

type Verdict = SheetCheck["verdict"];

const VERDICTS: readonly Verdict[] = ["fail", "warning", "pass"];

const VERDICT_WORDS: Readonly<Record<Verdict, string>> = { fail: "fails", warning: "warns", pass: "passes" };

/** Told apart by shape: a cross in a full square, an open triangle, a tick. */
const MARK_SHAPES: Readonly<Record<Verdict, string>> = {
  fail: `<path d="M0 0H20V20H0Z" fill="currentColor"/><path d="M5 5L15 15M15 5L5 15" stroke="#fff" stroke-width="2.6"/>`,
  warning: `<path d="M10 2L19 18H1Z" fill="none" stroke="currentColor" stroke-width="2"/><path d="M10 7V12.6M10 14V16" stroke="currentColor" stroke-width="2"/>`,
  pass: `<path d="M2 11L8 17L18 4" fill="none" stroke="currentColor" stroke-width="2.6"/>`,
};

/** Parts from this number on are set in two columns. */
const LONG_LIST = 16;

/**
 * The whole file, for UTF-8.
 *
 * @throws InternalError when the picture holds a number that is not finite.
 */
export function writeJobSheetHtml(sheet: JobSheet): string {
  return [
    "<!DOCTYPE html>",
    `<html lang="en">`,
    "<head>",
    `<meta charset="utf-8"/>`,
    `<meta name="viewport" content="width=device-width, initial-scale=1"/>`,
    `<title>${xmlText(sheet.title)}</title>`,
    `<style>${JOB_SHEET_STYLE}</style>`,
    "</head>",
    "<body>",
    heading(sheet),
    "<main>",
    plan(sheet),
    ...sheet.figures.map(figure),
    section("Materials", materialsTable(sheet.materials)),
    ...sheet.tables.map((own) => section(xmlText(own.title), ownTable(own))),
    section("Order of work", stepList(sheet.steps)),
    section("Files", fileList(sheet.files)),
    section("Checks", checkTable(sheet.checks)),
    cautions(sheet),
    section("Numbers used", numbersTable(sheet.numbers)),
    "</main>",
    `<footer>${xmlText(sheet.footer)}</footer>`,
    "</body>",
    "</html>",
    "",
  ]
    .filter((part, index, parts) => part !== "" || index === parts.length - 1)
    .join("\n");
}

function heading({ title, craft, verdict }: JobSheet): string {
  const [kind, look, word]: readonly [Verdict, string, string] = verdict.ready
    ? ["pass", "verdict pass", "Ready"]
    : ["fail", "verdict fail not-ready", "Not ready"];
  return [
    "<header>",
    `<div><h1>${xmlText(title)}</h1><p class="craft">${xmlText(craft)}</p></div>`,
    `<p class="${look}">${mark(kind)}<span><strong>${word}</strong> <span>${xmlText(verdict.text)}</span></span></p>`,
    "</header>",
  ].join("\n");
}

function plan({ picture, sizes }: JobSheet): string {
  const facts = sizes.map(
    ({ name, value }) => `<div><dt>${xmlText(name)}</dt><dd>${xmlText(value)}</dd></div>`,
  );
  const list = facts.length > 0 ? `<dl>${facts.join("\n")}</dl>` : "";
  return `<div class="plan">\n<figure>${pictureElement(picture)}${ringLegend(picture)}</figure>\n${list}\n</div>`;
}

function figure({ caption, picture }: JobSheet["figures"][number]): string {
  return `<figure class="more-figure">${pictureElement(picture)}<figcaption>${xmlText(caption)}</figcaption></figure>`;
}

function ringLegend({ items }: Picture): string {
  if (!items.some(({ kind }) => kind === "place")) return "";
  return "<figcaption>Rings: solid, where a check fails; dashed, a place to look at.</figcaption>";
}

function section(title: string, content: string): string {
  return content === "" ? "" : `<section>\n<h2>${title}</h2>\n${content}\n</section>`;
}

interface Column {
  readonly title: string;
  /** Classes of its cells. */
  readonly look?: string;
}

interface TableOptions {
  readonly look?: string;
  /** Whether the rows run on in a second column of the page. */
  readonly beside?: boolean;
}

/** A table whose rows are named by their first cell; nothing at all where it has no rows. */
function table(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  options: TableOptions = {},
): string {
  if (rows.length === 0) return "";
  const lines = rows.map((row) => {
    const [name = "", ...rest] = row;
    const cells = rest.map((text, index) => `<td${looks(columns[index + 1]?.look)}>${xmlText(text)}</td>`);
    return `<tr><th scope="row"${looks(columns[0]?.look)}>${xmlText(name)}</th>${cells.join("")}</tr>`;
  });
  return framedTable(columns, [`<tbody>`, ...lines, `</tbody>`], options);
}

function framedTable(
  columns: readonly Column[],
  bodies: readonly string[],
  { look, beside = false }: TableOptions = {},
): string {
  const heads = columns.map(({ title, look }) => `<th scope="col"${looks(look)}>${xmlText(title)}</th>`);
  return [
    `<div class="${beside ? "wide long" : "wide"}"><table${looks(look)}>`,
    `<thead><tr>${heads.join("")}</tr></thead>`,
    ...bodies,
    "</table></div>",
  ].join("\n");
}

function looks(classes: string | undefined): string {
  return classes ? ` class="${classes}"` : "";
}

function materialsTable(materials: JobSheet["materials"]): string {
  return table(
    [{ title: "For" }, { title: "Material" }, { title: "Amount", look: "figure" }, { title: "Remark" }],
    materials.map(({ part, material, amount, note }) => [part, material, amount, note]),
  );
}

function ownTable({ columns, rows }: SheetTable): string {
  return table(
    columns.map(({ title, isFigure }) => (isFigure ? { title, look: "figure" } : { title })),
    rows,
    { beside: rows.length >= LONG_LIST },
  );
}

function numbersTable(numbers: JobSheet["numbers"]): string {
  return table(
    [{ title: "Number" }, { title: "Value", look: "figure" }, { title: "Meaning" }, { title: "Source" }],
    numbers.map(({ name, value, meaning, source }) => [name, value, meaning, source]),
    { look: "numbers" },
  );
}

function fileList(files: JobSheet["files"]): string {
  if (files.length === 0) return "";
  const items = files.map(
    ({ name, purpose }) => `<div><dt>${xmlText(name)}</dt><dd>${xmlText(purpose)}</dd></div>`,
  );
  return `<dl class="files">\n${items.join("\n")}\n</dl>`;
}

/** Boxes that can be ticked with a pencil, or on a screen at the bench. */
function stepList(steps: readonly string[]): string {
  if (steps.length === 0) return "";
  const items = steps.map(
    (step) => `<li><label><input type="checkbox"/><span>${xmlText(step)}</span></label></li>`,
  );
  return `<ol class="steps">\n${items.join("\n")}\n</ol>`;
}

const CHECK_COLUMNS: readonly Column[] = [
  { title: "What is asked" },
  { title: "Measured", look: "figure" },
  { title: "Limit", look: "figure" },
  { title: "Places and remarks" },
  { title: "Verdict" },
];

function checkTable(checks: readonly SheetCheck[]): string {
  if (checks.length === 0) return "";
  const sorted = VERDICTS.flatMap((verdict) => checks.filter((check) => check.verdict === verdict));
  return framedTable(CHECK_COLUMNS, sorted.map(checkRows));
}

/** One body a check, so that its rows stay together on a page. */
function checkRows(check: SheetCheck): string {
  const { title, verdict, measured, limit, places, note } = check;
  const remark = verdict === "pass" && note !== "" ? `<span class="remark">${xmlText(note)}</span>` : "";
  const where = [xmlText(places), remark].filter((part) => part !== "").join(" ");
  return [
    `<tbody class="check ${verdict}">`,
    `<tr><th scope="row">${xmlText(title)}</th>`,
    `<td class="figure">${xmlText(measured)}</td><td class="figure">${xmlText(limit)}</td><td>${where}</td>`,
    `<td class="verdict-word">${mark(verdict)} ${VERDICT_WORDS[verdict]}</td></tr>`,
    ...moreRow(check),
    "</tbody>",
  ].join("\n");
}

/** What it means and what would mend it, over the full width. */
function moreRow({ verdict, note, remedies }: SheetCheck): string[] {
  const [only, ...others] = remedies;
  const parts: string[] = [];
  if (verdict !== "pass" && note !== "") parts.push(xmlText(note));
  if (only !== undefined) parts.push("What would mend it:");
  if (only !== undefined && others.length === 0) parts.push(xmlText(only));
  if (parts.length === 0) return [];
  const items = others.length > 0 ? remedies.map((remedy) => `<li>${xmlText(remedy)}</li>`) : [];
  const list = items.length > 0 ? `<ul class="remedies">${items.join("")}</ul>` : "";
  return [
    `<tr class="more"><td colspan="${CHECK_COLUMNS.length}"><div><p>${parts.join(" ")}</p>${list}</div></td></tr>`,
  ];
}

function cautions({ cautions, standingLine }: JobSheet): string {
  const items = cautions.map((caution) => `<li>${xmlText(caution)}</li>`);
  const list = items.length > 0 ? `<ul>\n${items.join("\n")}\n</ul>\n` : "";
  return `<section class="cautions">\n<h2>Cautions</h2>\n${list}<p class="standing">${xmlText(standingLine)}</p>\n</section>`;
}

function mark(verdict: Verdict): string {
  return `<svg class="mark" viewBox="0 0 20 20" aria-hidden="true">${MARK_SHAPES[verdict]}</svg>`;
}
