/** Applied cloth from its rules to its stitches. */

import { laceRibbons } from "../../ribbon/laced.ts";
import { appliqueBlocks } from "./applique.ts";
import type { LaidCloth } from "./cloth.ts";
import type { AppliqueSettings } from "./settings.ts";
import { checkSewn } from "./sewn-checks.ts";
import { checkGaps, checkHoop, checkRoom } from "./stitch-checks.ts";
import { stitchGeometry } from "./stitch-geometry.ts";
import type { StitchWork } from "./stitch-work.ts";

/** Of the three blocks; between them the machine stops. */
const PURPOSES = [
  "placement line: lay the second cloth over it",
  "tack-down: then trim the second cloth",
  "satin along the edges",
];

export function appliqueWork(cloth: LaidCloth, settings: AppliqueSettings): StitchWork {
  const { diagram, faces, ribbons } = cloth;
  // The satin lies half outside the edge.
  const geometry = stitchGeometry(diagram, faces, ribbons, settings.edgeSatinMm + settings.pullMm);
  return {
    cloth,
    settings,
    checks: [checkRoom(geometry, settings), checkGaps(geometry, settings), checkHoop(geometry, settings)],
    sew: () => {
      // The applied cloth is one piece, its crossings marked by lines of satin.
      const { bodies } = laceRibbons(diagram, faces, settings.ribbon.widthMm);
      const lines = bodies.flatMap(({ crossingLines }) => crossingLines);
      const blocks = appliqueBlocks({ shapes: bodies, lines }, settings);
      return {
        blocks,
        purposes: PURPOSES,
        checks: checkSewn(blocks, settings, {
          lengthKey: undefined,
          spacing: { key: "spacingMm", mm: settings.spacingMm },
        }),
        facts: [],
        figures: {},
        tables: [],
      };
    },
  };
}
