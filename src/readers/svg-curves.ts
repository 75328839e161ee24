/**
 * An SVG file of centrelines -> curves in mm, y up.
 *
 * The file comes from anywhere, so it is read as data only: nothing that it names is fetched or
 * run, it may define no entities, and its size, depth and reach are bounded. What is hidden or
 * only kept for reference is passed over, as texts and pictures are; a shape that cannot be read is
 * a fault, never left out. Colours, widths and style sheets do not matter.
 */
import { SaxesParser, type SaxesTagNS } from "saxes";
import { done, type Fault, type Result } from "../base/fault.ts";
import { type SmoothCurve, transformCurve } from "../geometry/smooth-curve.ts";
import { followedBy, type Transform } from "../geometry/transform.ts";
import { parseTransform } from "./svg-numbers.ts";
import { svgScale } from "./svg-scale.ts";
import { type Attributes, shapeRuns } from "./svg-shapes.ts";

/** One subpath: curves one after another, each beginning where the one before ended. */
export interface DrawnCurve {
  readonly closed: boolean;
  readonly curves: readonly SmoothCurve[];
  /** The line of the file on which the element begins that drew it. */
  readonly line: number;
}

export interface SvgCurves {
  readonly file: string;
  readonly curves: readonly DrawnCurve[];
}

const MOST_MEGABYTES = 8;
const DEEPEST = 64;
const MOST_CURVES = 400_000;
/** 100 m: no piece is larger, and coordinates up to here keep a millionth of a mm with ease. */
const MOST_REACH_MM = 100_000;

const SVG_NAMESPACE = "http://www.w3.org/2000/svg";

/** Elements that hold others to be drawn in place; all else that is no shape is passed over with what it holds. */
const GROUPS: ReadonlySet<string> = new Set(["svg", "g", "a", "switch"]);
/** Elements that draw something else in their place, or that run. */
const REFUSED: ReadonlySet<string> = new Set(["use", "script", "svg"]);

/**
 * Reads an SVG file.
 *
 * Faults, each with the line: `file-too-large`, `not-xml` (the first place), `svg-entities`, `not-svg`,
 * `svg-too-deep`, `svg-element` (one that is refused), `svg-attribute`, `drawing-too-large`, `drawing-too-rich`.
 */
export function readSvgCurves(text: string, file: string): Result<SvgCurves> {
  const megabytes = text.length / 1e6;
  if (megabytes > MOST_MEGABYTES) {
    return { ok: false, faults: [{ code: "file-too-large", file, megabytes, most: MOST_MEGABYTES }] };
  }
  const reader = new SvgReader();
  const faults = reader.read(text);
  if (faults.length > 0) return { ok: false, faults: faults.map((fault) => ({ ...fault, file })) };
  return done({ file, curves: reader.curves });
}

/** The text is fed in parts, so that reading ends soon after the first fault. */
const PART = 1 << 16;

class SvgReader {
  readonly curves: DrawnCurve[] = [];
  readonly #faults: Fault[] = [];
  readonly #parser = new SaxesParser({ xmlns: true });
  /** The map to mm of each open element that is drawn. */
  readonly #maps: Transform[] = [];
  /** How many open elements lie in one that is passed over, itself included. */
  #passed = 0;
  #line = 1;
  #namespace = "";
  #count = 0;

  read(text: string): readonly Fault[] {
    const parser = this.#parser;
    parser.on("error", (error) => this.#refuse(this.#xmlFault(error.message)));
    parser.on("doctype", (body) => {
      // Naming a document type is harmless, for it is not fetched; defining entities is not.
      if (body.includes("[")) this.#refuse({ code: "svg-entities", line: parser.line });
    });
    parser.on("opentagstart", () => {
      // The character after the name has been read by now, and often it ends the line.
      this.#line = parser.line - (/[\r\n]/.test(text.charAt(parser.position - 1)) ? 1 : 0);
    });
    parser.on("opentag", (tag) => this.#open(tag));
    parser.on("closetag", () => this.#close());
    for (let at = 0; at < text.length && this.#faults.length === 0; at += PART) {
      parser.write(text.slice(at, at + PART));
    }
    if (this.#faults.length === 0) parser.close();
    return this.#faults;
  }

  #refuse(...faults: readonly Fault[]): void {
    // After the first place all that follows may be its consequence.
    if (this.#faults.length === 0) this.#faults.push(...faults);
  }

  #xmlFault(message: string): Fault {
    const [, line, column, words = message] = /^(?:(\d+):(\d+): )?(.*)$/s.exec(message) ?? [];
    if (line === undefined) return { code: "not-xml", found: words };
    return { code: "not-xml", found: words, line: Number(line), column: Number(column) };
  }

  #open(tag: SaxesTagNS): void {
    if (this.#faults.length > 0) return;
    const depth = this.#maps.length + this.#passed;
    if (depth >= DEEPEST) {
      this.#refuse({ code: "svg-too-deep", most: DEEPEST, line: this.#line });
      return;
    }
    if (depth === 0) {
      this.#openRoot(tag);
      return;
    }
    const map = this.#maps.at(-1);
    const attributes = attributesOf(tag);
    const isOurs = tag.uri === this.#namespace;
    if (isOurs && tag.local === "script") {
      this.#refuseElement(tag);
      return;
    }
    if (this.#passed > 0 || !map || !isOurs || isHidden(attributes)) {
      this.#passed++;
      return;
    }
    if (REFUSED.has(tag.local)) {
      this.#refuseElement(tag);
      return;
    }
    const own = this.#mapOf(tag.local, attributes, map);
    if (!own) return;
    this.#draw(tag.local, attributes, own);
    if (GROUPS.has(tag.local)) this.#maps.push(own);
    else this.#passed++;
  }

  #openRoot(tag: SaxesTagNS): void {
    this.#namespace = tag.uri;
    // Files written by hand often leave the namespace out.
    if (tag.local !== "svg" || (tag.uri !== SVG_NAMESPACE && tag.uri !== "")) {
      this.#refuse({ code: "not-svg", found: tag.name, line: this.#line });
      return;
    }
    const attributes = attributesOf(tag);
    const scale = svgScale(attributes);
    if (!scale.ok) {
      this.#refuse(...scale.faults.map((fault) => ({ ...fault, line: this.#line })));
      return;
    }
    const map = this.#mapOf("svg", attributes, scale.value);
    if (map) this.#maps.push(map);
  }

  #refuseElement(tag: SaxesTagNS): void {
    this.#refuse({ code: "svg-element", element: tag.local, line: this.#line });
  }

  #close(): void {
    if (this.#passed > 0) this.#passed--;
    else this.#maps.pop();
  }

  /** The element's own transform, then that of what it stands in. */
  #mapOf(element: string, attributes: Attributes, outer: Transform): Transform | undefined {
    const style = /(?:^|;)\s*transform\s*:([^;]*)/.exec(attributes("style") ?? "")?.[1];
    const text = style ?? attributes("transform") ?? "";
    const own = style === undefined ? parseTransform(text) : undefined;
    if (own) return followedBy(own, outer);
    this.#refuse({
      code: "svg-attribute",
      line: this.#line,
      element,
      attribute: style === undefined ? "transform" : "style",
      found: text,
      wanted: style === undefined ? "a list of transforms" : "no transform (only the attribute of that name)",
    });
    return undefined;
  }

  #draw(element: string, attributes: Attributes, map: Transform): void {
    const line = this.#line;
    const runs = shapeRuns(element, attributes);
    if (!runs.ok) {
      this.#refuse(...runs.faults.map((fault) => ({ ...fault, line })));
      return;
    }
    for (const { closed, curves } of runs.value) {
      const drawn = curves.map((curve) => transformCurve(curve, map));
      this.#count += drawn.length;
      const reachMm = drawn.reduce((reach, curve) => furthest(reach, reachOf(curve)), 0);
      if (!(reachMm <= MOST_REACH_MM)) {
        this.#refuse({ code: "drawing-too-large", line, reachMm, mostMm: MOST_REACH_MM });
        return;
      }
      this.curves.push({ closed, curves: drawn, line });
    }
    if (this.#count > MOST_CURVES)
      this.#refuse({ code: "drawing-too-rich", line, most: MOST_CURVES, of: "curves" });
  }
}

function attributesOf(tag: SaxesTagNS): Attributes {
  return (name) => tag.attributes[name]?.value;
}

function isHidden(attributes: Attributes): boolean {
  const style = /(?:^|;)\s*display\s*:\s*([a-z]+)/i.exec(attributes("style") ?? "")?.[1];
  return (style ?? attributes("display") ?? "").trim() === "none";
}

/** The greatest coordinate of any point that shapes the curve; NaN where one is no number. */
function reachOf(curve: SmoothCurve): number {
  const points = Object.values(curve).filter((value) => typeof value === "object");
  const angles = curve.kind === "ellipse" ? [curve.startAngle, curve.sweep] : [];
  const sizes = points.flatMap(({ x, y }) => [Math.abs(x), Math.abs(y)]);
  return [...sizes, ...angles.map(Math.abs)].reduce(furthest, 0);
}

function furthest(a: number, b: number): number {
  return Number.isNaN(a) || Number.isNaN(b) ? Number.NaN : Math.max(a, b);
}
