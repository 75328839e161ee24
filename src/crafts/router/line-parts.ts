/** Stretches of lines on which a number that goes along with them is in a range. */
import type { AxisPoint } from "../../geometry/medial-refine.ts";
import type { Place3 } from "../../output/toolpath.ts";

export interface LinePart<P> {
  readonly points: readonly P[];
  /** Whether it begins and ends where the whole line does. */
  readonly startsWhole: boolean;
  readonly endsWhole: boolean;
}

/** The stretches of a line on which `room` is not negative, cut where it is 0; `room` changes evenly between points. */
export function keptParts<P>(
  points: readonly P[],
  room: (point: P) => number,
  mix: (a: P, b: P, t: number) => P,
): LinePart<P>[] {
  const parts: LinePart<P>[] = [];
  let current: P[] = [];
  let startsWhole = false;
  let before: P | undefined;
  const finish = (endsWhole: boolean) => {
    // A line that only touches the limit has nothing to cut there.
    if (current.length > 1 && current.some((point) => room(point) > 0))
      parts.push({ points: current, startsWhole, endsWhole });
    current = [];
  };
  for (const [i, point] of points.entries()) {
    const here = room(point);
    const last = before === undefined ? here : room(before);
    if (before !== undefined && last >= 0 !== here >= 0) {
      const edge = mix(before, point, last / (last - here));
      if (here >= 0) {
        current = [edge];
        startsWhole = false;
      } else {
        current.push(edge);
        finish(false);
      }
    }
    if (here >= 0) {
      if (i === 0) startsWhole = true;
      current.push(point);
    }
    before = point;
  }
  finish(true);
  return parts;
}

export function mixAxis(a: AxisPoint, b: AxisPoint, t: number): AxisPoint {
  return {
    x: a.x + (b.x - a.x) * t,
    y: a.y + (b.y - a.y) * t,
    radius: a.radius + (b.radius - a.radius) * t,
  };
}

export function mixPlaces(a: Place3, b: Place3, t: number): Place3 {
  return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t, z: a.z + (b.z - a.z) * t };
}
