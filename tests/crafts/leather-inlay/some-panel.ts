/** Panels for property tests: sound outlines with breaklines put on some of their crossings. */
import fc from "fast-check";
import { plainPanel } from "../../support/plain-panel.ts";

const OUTLINES: readonly (readonly string[])[] = [
  plainPanel(3, 2),
  plainPanel(4, 3),
  plainPanel(3, 3),
  // A notch at each corner.
  ["  +-+-+", "  |oxo|", "+-+x+x+-+", "|oxoxoxo|", "+-+x+x+-+", "  |oxo|", "  +-+-+"],
  // A hole of one cell.
  ["+-+-+-+-+-+", "|oxoxoxoxo|", "+x+x+-+x+x+", "|oxo| |oxo|", "+x+x+-+x+x+", "|oxoxoxoxo|", "+-+-+-+-+-+"],
];

export function somePanel(): fc.Arbitrary<readonly string[]> {
  const outline = fc.constantFrom(...OUTLINES);
  const breaks = fc.array(fc.tuple(fc.nat(), fc.constantFrom("-", "|")), { maxLength: 5 });
  return fc.tuple(outline, breaks).map(([rows, wanted]) => {
    const places = rows.map((row) => [...row]);
    const sites = places.flatMap((row, r) => row.flatMap((place, c) => (place === "x" ? [{ r, c }] : [])));
    for (const [number, line] of wanted) {
      const site = sites[number % sites.length];
      const row = site && places[site.r];
      if (row) row[site.c] = line;
    }
    return places.map((row) => row.join(""));
  });
}
