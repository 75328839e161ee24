/**
 * Pages of paper as a PDF file (ISO 32000-1): vector drawing in true size, real text in embedded
 * faces, tagged for voices. The same pages give the same bytes.
 */
import { InternalError } from "../../base/internal-error.ts";
import { LONGEST_SIDE_MM, type PaperDocument, POINT_MM } from "../../output/paper.ts";
import { Faces, type PaperFonts } from "./faces.ts";
import { PagePen } from "./page-pen.ts";
import { PdfFile } from "./pdf-file.ts";
import { TagTree } from "./tag-tree.ts";

/**
 * The whole file. `onPage` hears after each page how many of how many are drawn.
 *
 * @throws InternalError for a number that is not finite, a page that no reader opens, or a
 * `marked` item whose element is not in the document's structure.
 */
export function writePdf(
  document: PaperDocument,
  fonts: PaperFonts,
  onPage: (done: number, of: number) => void = () => {},
): Uint8Array {
  const { title, language, pages, structure } = document;
  if (pages.length === 0) throw new InternalError("a document without pages");
  const file = new PdfFile({ title, language });
  const tags = new TagTree(file);
  const pen = new PagePen(file, new Faces(file, fonts), tags);
  for (const [index, { widthMm, heightMm, items }] of pages.entries()) {
    for (const side of [widthMm, heightMm])
      if (!(side > 0 && side <= LONGEST_SIDE_MM)) throw new InternalError(`a page with a side of ${side} mm`);
    file.addPage({ size: [widthMm / POINT_MM, heightMm / POINT_MM], margin: 0 });
    pen.drawPage(items);
    onPage(index + 1, pages.length);
  }
  tags.finish(structure);
  return file.bytes();
}
