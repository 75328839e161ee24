/** What a profile says in words, and how a job sheet repeats it. */
import { formatNumber } from "../base/format-number.ts";
import type { JobSheet } from "../output/job-sheet.ts";
import { unitText } from "./check-words.ts";

export interface CraftWords {
  readonly title: string;
  readonly materials: readonly { readonly part: string; readonly material: string; readonly notes: string }[];
  readonly numbers: readonly {
    readonly key: string;
    readonly value: number;
    readonly unit: string;
    readonly meaning: string;
    readonly source: string;
  }[];
  readonly cautions: readonly string[];
  readonly standingLine: string;
  readonly orderOfWork: readonly string[];
}

/** What every sheet of the craft says alike. */
export function wordsOnSheet(
  words: CraftWords,
): Pick<JobSheet, "craft" | "materials" | "numbers" | "steps" | "cautions" | "standingLine"> {
  return {
    craft: words.title,
    materials: words.materials.map(({ part, material, notes }) => ({
      part,
      material,
      amount: "",
      note: notes,
    })),
    numbers: words.numbers.map(({ key, value, unit, meaning, source }) => ({
      name: key,
      value: `${formatNumber(value, 3)}${unitText(unit)}`,
      meaning: firstSentence(meaning),
      source,
    })),
    steps: words.orderOfWork,
    cautions: words.cautions,
    standingLine: words.standingLine,
  };
}

/** The rest of a number's meaning is in the profile. */
function firstSentence(text: string): string {
  return /^.*?[.](?= )/.exec(text)?.[0] ?? text;
}
