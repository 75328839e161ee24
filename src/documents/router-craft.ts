import { InternalError } from "../base/internal-error.ts";
import type { CraftKind } from "./craft.ts";

const later: CraftKind = {
  options: [],
  verb: "carve",
  measure: () => {
    throw new InternalError("not yet");
  },
};
export const ROUTER_GROUND = later;
export const ROUTER_GROOVE = later;
export const ROUTER_RELIEF = later;
