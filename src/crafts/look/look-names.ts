/** The looks that a finished knot can be drawn in. */
export const LOOK_NAMES = ["line", "ribbon", "wood", "leather", "thread"] as const;

export type LookName = (typeof LOOK_NAMES)[number];

export function isLookName(text: string): text is LookName {
  return LOOK_NAMES.some((name) => name === text);
}
