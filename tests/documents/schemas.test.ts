import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { z } from "zod";
import type { CheckResult } from "../../src/checks/check.ts";
import { type JobManifest, jobManifestSchema } from "../../src/documents/job-manifest.ts";
import { schemaFiles } from "../../src/documents/schemas.ts";

const shared = (name: string) => readFileSync(new URL(`../../shared/${name}`, import.meta.url), "utf8");

test.each(schemaFiles())(
  "shared/$name is what the code says (npm run schemas writes it)",
  ({ name, text }) => {
    expect(shared(name)).toBe(text);
  },
);

// The published file alone, read back by zod's own reader of JSON Schema, must judge as the parser does.
test.each([
  ["design.schema.json", { plaitwright: 1, pitch: [12, 10], panel: ["+-+", "|o|", "+-+"] }, true],
  ["design.schema.json", { plaitwright: 1, pitch: 0, panel: ["+-+"] }, false],
  ["design.schema.json", { plaitwright: 1, pitch: 12, panel: ["+-+"], colour: "red" }, false],
  ["design.schema.json", { plaitwright: 2, pitch: 12, panel: ["+-+"] }, false],
  ["profile.schema.json", JSON.parse(shared("../profiles/leather-inlay.json")), true],
  ["profile.schema.json", { plaitwrightProfile: 1, name: "mine" }, false],
])("%s judges a document on its own (%#)", (name, document, good) => {
  expect(z.fromJSONSchema(JSON.parse(shared(name))).safeParse(document).success).toBe(good);
});

const CHECK: CheckResult = {
  rule: "least-web",
  title: "The webs between cuts are wide enough",
  verdict: "fail",
  measured: 1.2,
  limit: 1.5,
  sense: "least",
  unit: "mm",
  count: 2,
  places: [{ x: 1, y: 2 }],
  remedies: [{ change: "pitch", value: [14.4, 12], text: "pitch 14.4 × 12 mm" }],
  note: "A narrower web tears.",
};

const JOB: JobManifest = {
  plaitwrightJob: 1,
  tool: { name: "plaitwright", version: "0.1.0" },
  title: "Gate panel",
  design: { file: "gate.plait.json", sha256: "0".repeat(64) },
  profile: {
    name: "leather-inlay",
    craft: "leather-inlay",
    numbers: { kerfMm: 0.2 },
    choices: { way: "pieces" },
  },
  settings: {
    pitchMm: [12, 12],
    widthMm: 4,
    gapMm: 2,
    corner: "pointed",
    kerfMm: 0.2,
    clearancePerSideMm: -0.05,
  },
  size: { width: 60, height: 48 },
  counts: { crossings: 7 },
  checks: [CHECK, { ...CHECK, verdict: "pass", measured: null, places: [], remedies: [] }],
  files: [{ path: "ground.dxf", kind: "dxf", purpose: "Pockets", sha256: "f".repeat(64) }],
  layers: [{ name: "POCKET", purpose: "Cut first", entities: 12 }],
  work: { lengthMm: 900, travelMm: 200, travelInFileOrderMm: 400 },
  cautions: ["Never leave the laser while it runs."],
  standingLine: "These notes are general.",
};

test.each([
  ["a full manifest", JOB, true],
  ["without figures of the work", (({ work: _work, ...rest }) => rest)(JOB), true],
  ["another version", { ...JOB, plaitwrightJob: 2 }, false],
  ["a short digest", { ...JOB, design: { ...JOB.design, sha256: "abc" } }, false],
  ["an unknown key", { ...JOB, date: "today" }, false],
  ["half an entity", { ...JOB, layers: [{ name: "INLAY", purpose: "a", entities: 0.5 }] }, false],
  ["a measure that is no number", { ...JOB, checks: [{ ...CHECK, measured: Number.NaN }] }, false],
])("job manifest: %s", (_name, job, good) => {
  expect(jobManifestSchema.safeParse(job).success).toBe(good);
});
