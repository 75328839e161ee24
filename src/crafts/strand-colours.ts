/**
 * Colours that tell strands apart in pictures: they differ in lightness as well as in hue, so
 * that they stay apart in black and white and for colour-blind eyes.
 */
const STRAND_COLOURS = [
  "#e9c27d",
  "#8c3b2a",
  "#9dbfc4",
  "#5d6b2e",
  "#f3ead6",
  "#6a5078",
  "#c9794f",
  "#3f6277",
];

export function strandColour(strand: number): string {
  return STRAND_COLOURS[strand % STRAND_COLOURS.length] ?? "#000000";
}
