/** Colours of our own for each look, strand by strand, and what lies between two colours. */

/** Each differs from its neighbours in lightness, so that strands stay apart in black and white. */
const WOODS = ["#dcab6a", "#74452a", "#efd6a8", "#a04c2c", "#c98a4b", "#43291a", "#b9b08c", "#7f5a3a"];
const LEATHERS = ["#b0652e", "#4a2e20", "#d8ae7c", "#6b1f1d", "#c4853f", "#55452f", "#8f8474", "#1f2a35"];
const THREADS = ["#d8a02f", "#7a1730", "#e9dfc6", "#1f6a70", "#d5694b", "#2e3a78", "#7f9b3a", "#4a2452"];

export type Tints = "wood" | "leather" | "thread";

const TINTS: Readonly<Record<Tints, readonly string[]>> = { wood: WOODS, leather: LEATHERS, thread: THREADS };

export function strandTint(of: Tints, strand: number): string {
  const tints = TINTS[of];
  return tints[strand % tints.length] ?? "#000000";
}

/** The colour `share` (0 to 1) of the way from one #rrggbb to another. */
export function mixTints(from: string, to: string, share: number): string {
  const channels = [1, 3, 5].map((at) => {
    const [a, b] = [from, to].map((colour) => Number.parseInt(colour.slice(at, at + 2), 16));
    return Math.round((a ?? 0) + ((b ?? 0) - (a ?? 0)) * share);
  });
  return `#${channels.map((value) => value.toString(16).padStart(2, "0")).join("")}`;
}

/** Relative luminance from 0 (black) to 1 (white), as WCAG 2 defines it. */
export function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
