/** Every craft with what it makes of a woven design. */
import type { CraftKind } from "./craft.ts";
import type { Craft } from "./craft-names.ts";
import { LEATHER_INLAY } from "./leather-inlay-craft.ts";
import { PATTERN_LINE, TEMPLATE_CARVING, TEMPLATE_LEATHER, TEMPLATE_PIERCED } from "./paper-craft.ts";
import { ROUTER_GROOVE, ROUTER_GROUND, ROUTER_RELIEF } from "./router-craft.ts";
import { STITCH_APPLIQUE, STITCH_OUTLINE, STITCH_SATIN } from "./stitch-craft.ts";

export const CRAFT_KINDS: Readonly<Record<Craft, CraftKind>> = {
  "leather-inlay": LEATHER_INLAY,
  "router-ground": ROUTER_GROUND,
  "router-groove": ROUTER_GROOVE,
  "router-relief": ROUTER_RELIEF,
  "stitch-satin": STITCH_SATIN,
  "stitch-outline": STITCH_OUTLINE,
  "stitch-applique": STITCH_APPLIQUE,
  "template-carving": TEMPLATE_CARVING,
  "template-leather": TEMPLATE_LEATHER,
  "template-pierced": TEMPLATE_PIERCED,
  "pattern-line": PATTERN_LINE,
};
