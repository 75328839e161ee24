/** Down into the wood along a line in space that the cutter will follow anyway. */
import type { Place3 } from "../../output/toolpath.ts";

/** A line so short that a ramp would turn round more often than this is gone down more steeply. */
const MOST_TURNS = 40;

/**
 * From above the line's start at the height `fromZ` down to the start: forward along the line,
 * falling by `slope` for each mm until the line itself is reached, then back along it; to and fro
 * where it is too short for that. Never below the line.
 */
export function rampDown(line: readonly Place3[], fromZ: number, slope: number): Place3[] {
  const start = line[0];
  if (!start || line.length < 2 || fromZ <= start.z) return [];
  const fall = Math.max(slope, (fromZ - start.z) / (MOST_TURNS * flatLength(line)));
  const way: Place3[] = [];
  let ahead = line;
  let at: Place3 = { ...start, z: fromZ };
  for (let turn = 0; turn < 2 * MOST_TURNS && at.z > start.z; turn++) {
    const { places, reached } = descend(ahead, at.z, fall);
    way.push(...places);
    at = places.at(-1) ?? at;
    if (reached !== undefined) {
      // Back to the start: for a way that leads forward along what was passed, else on.
      const forward = turn % 2 === 0;
      way.push(...(forward ? ahead.slice(0, reached).toReversed() : ahead.slice(reached)));
      return way;
    }
    ahead = ahead.toReversed();
  }
  return way;
}

/** Along the line from its start at `fromZ`, falling but never below it; `reached` is the point from which on it is the line itself. */
function descend(
  line: readonly Place3[],
  fromZ: number,
  fall: number,
): { readonly places: Place3[]; readonly reached: number | undefined } {
  const places: Place3[] = [];
  let z = fromZ;
  for (let i = 1; i < line.length; i++) {
    const a = line[i - 1];
    const b = line[i];
    if (!a || !b) break;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    // Heights over the line at both ends of this stretch.
    const over = z - a.z;
    const left = z - fall * length - b.z;
    if (left > 0) {
      z -= fall * length;
      places.push({ ...b, z });
      continue;
    }
    const t = over - left > 0 ? over / (over - left) : 1;
    places.push({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t, z: a.z + (b.z - a.z) * t });
    return { places, reached: i };
  }
  return { places, reached: undefined };
}

function flatLength(line: readonly Place3[]): number {
  let length = 0;
  for (const [i, { x, y }] of line.entries()) {
    const before = line[i - 1];
    if (before) length += Math.hypot(x - before.x, y - before.y);
  }
  return Math.max(length, Number.MIN_VALUE);
}
