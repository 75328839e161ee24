/** A colour as people write it on a command line: hexadecimal as in CSS, with or without its #, or a basic word. */
import { done, type Result, refused } from "../base/fault.ts";

/** The sixteen basic colour keywords (CSS Color Module Level 4, section 6.1). */
const BASIC: Readonly<Record<string, string>> = {
  black: "#000000",
  silver: "#c0c0c0",
  gray: "#808080",
  white: "#ffffff",
  maroon: "#800000",
  red: "#ff0000",
  purple: "#800080",
  fuchsia: "#ff00ff",
  green: "#008000",
  lime: "#00ff00",
  olive: "#808000",
  yellow: "#ffff00",
  navy: "#000080",
  blue: "#0000ff",
  teal: "#008080",
  aqua: "#00ffff",
};

/** As #rrggbb. A # that a shell took for a comment may be left out. Faults: `unknown-word`, `bad-option`. */
export function groundColour(text: string): Result<string> {
  const word = text.trim().toLowerCase();
  const known = Object.hasOwn(BASIC, word) ? BASIC[word] : undefined;
  if (known !== undefined) return done(known);
  const hex = word.replace(/^#/, "");
  if (/^[0-9a-f]{6}$/.test(hex)) return done(`#${hex}`);
  if (/^[0-9a-f]{3}$/.test(hex)) return done(`#${[...hex].map((digit) => digit + digit).join("")}`);
  if (/^[a-z]+$/.test(word))
    return refused({ code: "unknown-word", path: ["--ground"], found: text, known: Object.keys(BASIC) });
  return refused({
    code: "bad-option",
    option: "--ground",
    found: text,
    wanted: "a colour as f4efe6 or '#f4efe6', or a word as white",
  });
}
