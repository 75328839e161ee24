/** A remedy taken up: the same job asked for again with the one change that a check offers. */
import { formatMm } from "../base/format-number.ts";
import { InternalError } from "../base/internal-error.ts";
import type { Remedy } from "../checks/check.ts";
import type { Overrides } from "./job-settings.ts";
import type { Profile } from "./profile.ts";

/** What a person may turn: the options of a job and the numbers of their profile. */
export interface JobRequest {
  readonly profile: Profile;
  readonly overrides: Overrides;
}

/**
 * The request with the remedy's change made in it. A pitch takes the place of a size, and the
 * other way round: each settles the other.
 *
 * @throws InternalError for a change that is neither an option nor a number of the profile.
 */
export function applyRemedy({ profile, overrides }: JobRequest, { change, value }: Remedy): JobRequest {
  const { pitchMm: _pitch, sizeMm: _size, stretch: _stretch, ...rest } = overrides;
  const option = (changed: Overrides): JobRequest => ({ profile, overrides: changed });
  switch (change) {
    case "pitch": {
      const [across, down] = pairOf(value);
      return option({ ...rest, pitchMm: { across, down } });
    }
    case "size": {
      const [width, height] = pairOf(value);
      return option({ ...overrides, sizeMm: { width, height } });
    }
    case "width":
      return option({ ...overrides, widthMm: numberOf(value) });
    case "gap":
      return option({ ...overrides, gapMm: numberOf(value) });
    case "cutter":
      return { overrides, profile: withMill(profile, numberOf(value)) };
    case "kerf":
      return option({ ...overrides, kerfMm: numberOf(value) });
    default: {
      const entry = profile.numbers[change];
      if (!entry) throw new InternalError(`nothing is called ${change}`);
      const numbers = { ...profile.numbers, [change]: { ...entry, value: numberOf(value) } };
      return { overrides, profile: { ...profile, numbers } };
    }
  }
}

/** The profile with one more end mill, as its smallest one is but for the diameter. */
function withMill(profile: Profile, diameterMm: number): Profile {
  const mills = profile.cutters.filter(({ kind }) => kind === "end-mill");
  const [smallest] = mills.toSorted((a, b) => a.diameterMm - b.diameterMm);
  if (!smallest) throw new InternalError("no end mill to go by");
  const { stepDownMm: _down, stepOverMm: _over, feedMmPerMin: _feed, ...like } = smallest;
  const number = Math.max(...profile.cutters.map((cutter) => cutter.number)) + 1;
  const name = `Flat end mill ${formatMm(diameterMm)}`;
  return { ...profile, cutters: [...profile.cutters, { ...like, number, name, diameterMm }] };
}

function numberOf(value: Remedy["value"]): number {
  if (typeof value !== "number") throw new InternalError(`one number is wanted, not ${String(value)}`);
  return value;
}

/** `12`, `[12, 14]` or "300x200" as two numbers. */
function pairOf(value: Remedy["value"]): readonly [number, number] {
  if (typeof value === "number") return [value, value];
  const [first, second] = typeof value === "string" ? value.split("x").map(Number) : value;
  if (first === undefined || second === undefined)
    throw new InternalError(`two numbers are wanted, not ${value}`);
  return [first, second];
}
