/** The crafts that there are, and the rules of their profiles. */
import type { CraftRules } from "./craft-rules.ts";
import { LEATHER_INLAY_CHOICES, LEATHER_INLAY_NUMBERS } from "./leather-inlay-rules.ts";
import { CARVING_RULES, KNIFE_RULES, PATTERN_RULES, PIERCED_RULES } from "./paper-rules.ts";
import { GROOVE_RULES, GROUND_RULES, RELIEF_RULES } from "./router-rules.ts";
import { APPLIQUE_RULES, OUTLINE_RULES, SATIN_RULES } from "./stitch-rules.ts";

export const CRAFTS = [
  "leather-inlay",
  "router-ground",
  "router-groove",
  "router-relief",
  "stitch-satin",
  "stitch-outline",
  "stitch-applique",
  "template-carving",
  "template-leather",
  "template-pierced",
  "pattern-line",
] as const;
export type Craft = (typeof CRAFTS)[number];

export const CRAFT_RULES: Readonly<Record<Craft, CraftRules>> = {
  "leather-inlay": { numbers: LEATHER_INLAY_NUMBERS, choices: LEATHER_INLAY_CHOICES, cutters: false },
  "router-ground": GROUND_RULES,
  "router-groove": GROOVE_RULES,
  "router-relief": RELIEF_RULES,
  "stitch-satin": SATIN_RULES,
  "stitch-outline": OUTLINE_RULES,
  "stitch-applique": APPLIQUE_RULES,
  "template-carving": CARVING_RULES,
  "template-leather": KNIFE_RULES,
  "template-pierced": PIERCED_RULES,
  "pattern-line": PATTERN_RULES,
};
