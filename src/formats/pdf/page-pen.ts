/**
 * Draws items of paper on the page at hand. Everything is brought to the page's millimetres
 * first and then to points by one factor, 72 / 25.4, so that the numbers in the file are those of
 * the design; the package rounds them to six decimals, a ten-millionth of the page.
 */
import type { PDFDocument } from "pdfkit";
import { InternalError } from "../../base/internal-error.ts";
import { type ArcChain, segmentsOf } from "../../geometry/arc-chain.ts";
import { boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import { rectangleChain } from "../../geometry/plain-shapes.ts";
import type { Point } from "../../geometry/point.ts";
import { followedBy, moveBy, type Transform, transformChain, turnBy } from "../../geometry/transform.ts";
import { type PaperItem, type PaperText, POINT_MM } from "../../output/paper.ts";
import type { RgbImage } from "../../output/rgb-image.ts";
import { writePngRgb } from "../png.ts";
import { arcCurves, CURVE_ERROR_MM } from "./arc-bezier.ts";
import type { Faces } from "./faces.ts";
import type { TagTree } from "./tag-tree.ts";

const POINTS_PER_MM = 1 / POINT_MM;
const IN_PLACE = moveBy(0, 0);
/** How far letters reach above and below their foot, in shares of the type's size. */
const REACH_UP = 0.74;
const REACH_DOWN = 0.22;
/** Only these reach below it. */
const REACHES_DOWN = /[gjpqyQ,;()[\]{}|/@ç]/;

type ItemOf<Kind extends PaperItem["kind"]> = Extract<PaperItem, { readonly kind: Kind }>;

export class PagePen {
  readonly #file: PDFDocument;
  readonly #faces: Faces;
  readonly #tags: TagTree;
  readonly #images = new Map<RgbImage, PDFDocument.Image>();

  constructor(file: PDFDocument, faces: Faces, tags: TagTree) {
    this.#file = file;
    this.#faces = faces;
    this.#tags = tags;
  }

  /** All items of a page. */
  drawPage(items: readonly PaperItem[]): void {
    // The package draws y down; this turns it back.
    this.#file.transform(1, 0, 0, -1, 0, this.#file.page.height);
    this.#drawTagged(items, IN_PLACE);
  }

  /** Neighbours that belong to no element are passed over together. */
  #drawTagged(items: readonly PaperItem[], by: Transform): void {
    let furniture: PaperItem[] = [];
    const passOver = () => {
      const passed = furniture;
      furniture = [];
      if (passed.length > 0) this.#tags.passOver(() => this.#drawAll(passed, by));
    };
    for (const item of items) {
      if (!holdsMarked(item)) {
        furniture.push(item);
        continue;
      }
      passOver();
      if (item.kind === "marked") this.#tags.mark(item.element, () => this.#drawAll(item.items, by));
      else if (item.kind === "group") this.#group(item, by, (inner, to) => this.#drawTagged(inner, to));
    }
    passOver();
  }

  #drawAll(items: readonly PaperItem[], by: Transform): void {
    for (const item of items) this.#draw(item, by);
  }

  #draw(item: PaperItem, by: Transform): void {
    switch (item.kind) {
      case "line":
        this.#line(item, by);
        return;
      case "area":
        this.#area(item, by);
        return;
      case "text":
        this.#text(item, by);
        return;
      case "image":
        this.#image(item, by);
        return;
      case "group":
        this.#group(item, by, (inner, to) => this.#drawAll(inner, to));
        return;
      case "marked":
        throw new InternalError("an element's content holds the content of another");
    }
  }

  #group(
    { transform, clip, items }: ItemOf<"group">,
    by: Transform,
    draw: (items: readonly PaperItem[], by: Transform) => void,
  ): void {
    const inner = transform ? followedBy(transform, by) : by;
    if (!clip) {
      draw(items, inner);
      return;
    }
    this.#file.save();
    this.#path([rectangleChain(clip)], by);
    this.#file.clip();
    draw(items, inner);
    this.#file.restore();
  }

  #line({ chains, colour, widthMm, dash, roundEnds }: ItemOf<"line">, by: Transform): void {
    const scale = scaleOf(by) * POINTS_PER_MM;
    this.#pen(colour, widthMm * scale, roundEnds ?? false);
    if (dash)
      this.#file.dash(
        dash.lengthsMm.map((length) => length * scale),
        { phase: (dash.phaseMm ?? 0) * scale },
      );
    this.#path(chains, by);
    this.#file.stroke();
    if (dash) this.#file.undash();
  }

  #area({ chains, fill, edge }: ItemOf<"area">, by: Transform): void {
    this.#file.fillColor(fill);
    this.#path(chains, by);
    this.#file.fill("even-odd");
    if (!edge) return;
    this.#pen(edge.colour, edge.widthMm * scaleOf(by) * POINTS_PER_MM, false);
    this.#path(chains, by);
    this.#file.stroke();
  }

  #pen(colour: string, width: number, roundEnds: boolean): void {
    this.#file
      .strokeColor(colour)
      .lineWidth(width)
      .lineJoin("round")
      .lineCap(roundEnds ? "round" : "butt");
  }

  #text(item: PaperText, by: Transform): void {
    const { text, at, colour, weight = "regular", anchor = "start", turnRad = 0, clearMm } = item;
    const wanted = this.#faces.widthMm(text, item.sizeMm, weight);
    const width = Math.min(wanted, item.mostMm ?? wanted);
    const sizeMm = wanted > 0 ? item.sizeMm * (width / wanted) : item.sizeMm;
    const start = anchor === "start" ? 0 : anchor === "middle" ? -width / 2 : -width;
    const place = followedBy(followedBy(turnBy(turnRad), moveBy(at.x, at.y)), by);
    if (clearMm !== undefined) {
      const box = {
        minX: start - clearMm,
        minY: (REACHES_DOWN.test(text) ? -REACH_DOWN * sizeMm : 0) - clearMm,
        maxX: start + width + clearMm,
        maxY: REACH_UP * sizeMm + clearMm,
      };
      this.#area({ kind: "area", chains: [rectangleChain(box)], fill: "#fff" }, place);
    }
    this.#yDown(place, () => {
      let x = start;
      this.#file.fillColor(colour);
      for (const run of this.#faces.runsOf(text, weight)) {
        const file = this.#faces.use(run.face, sizeMm);
        file.text(run.text, x * POINTS_PER_MM, 0, { lineBreak: false, baseline: "alphabetic" });
        x += file.widthOfString(run.text) * POINT_MM;
      }
    });
  }

  #image({ bounds, image }: ItemOf<"image">, by: Transform): void {
    let opened = this.#images.get(image);
    if (!opened) {
      opened = this.#file.openImage(writePngRgb(image));
      this.#images.set(image, opened);
    }
    const own = opened;
    this.#yDown(by, () => {
      this.#file.image(own, bounds.minX * POINTS_PER_MM, -bounds.maxY * POINTS_PER_MM, {
        width: boundsWidth(bounds) * POINTS_PER_MM,
        height: boundsHeight(bounds) * POINTS_PER_MM,
      });
    });
  }

  /** What the package itself draws wants y down: y is turned over about the origin of `place`. */
  #yDown({ a, b, c, d, e, f }: Transform, draw: () => void): void {
    this.#file.save();
    this.#file.transform(a, b, -c, -d, finite(e) * POINTS_PER_MM, finite(f) * POINTS_PER_MM);
    draw();
    this.#file.restore();
  }

  #path(chains: readonly ArcChain[], by: Transform): void {
    for (const chain of chains) this.#chain(by === IN_PLACE ? chain : transformChain(chain, by));
  }

  #chain(chain: ArcChain): void {
    const file = this.#file;
    const segments = segmentsOf(chain);
    for (const [index, segment] of segments.entries()) {
      if (index === 0) file.moveTo(...points(segment.from));
      // Closing the path draws the last straight line.
      const closes = chain.closed && index === segments.length - 1;
      if (segment.bulge === 0) {
        if (!closes) file.lineTo(...points(segment.to));
      } else
        for (const { first, second, to } of arcCurves(segment, CURVE_ERROR_MM))
          file.bezierCurveTo(...points(first), ...points(second), ...points(to));
    }
    if (chain.closed && segments.length > 0) file.closePath();
  }
}

function holdsMarked(item: PaperItem): boolean {
  return item.kind === "marked" || (item.kind === "group" && item.items.some(holdsMarked));
}

function points({ x, y }: Point): [number, number] {
  return [finite(x) * POINTS_PER_MM, finite(y) * POINTS_PER_MM];
}

function finite(mm: number): number {
  if (!Number.isFinite(mm)) throw new InternalError(`cannot draw at ${mm} mm`);
  return mm;
}

function scaleOf({ a, b, c, d }: Transform): number {
  return Math.sqrt(Math.abs(a * d - b * c));
}
