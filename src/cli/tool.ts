/** The tool's own name and version, as its package says. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { PACKAGE_FOLDER } from "./read-input.ts";

function packageVersion(): string {
  const text = readFileSync(join(PACKAGE_FOLDER, "package.json"), "utf8");
  const parsed: unknown = JSON.parse(text);
  const version = typeof parsed === "object" && parsed !== null && "version" in parsed ? parsed.version : "";
  return String(version);
}

export const TOOL = { name: "plaitwright", version: packageVersion() };
