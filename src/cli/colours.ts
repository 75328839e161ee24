/** Colours where a person reads along: on a terminal, unless NO_COLOR says otherwise (no-color.org). */
import pc from "picocolors";

const { env, stdout } = process;

/** The library alone would also colour what a build server pipes into a file. */
const wanted = env["NO_COLOR"]
  ? false
  : env["FORCE_COLOR"]
    ? env["FORCE_COLOR"] !== "0"
    : stdout.isTTY === true;

export const colours = pc.createColors(wanted);
