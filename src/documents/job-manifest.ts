/**
 * The manifest of a job folder (`job.json`, format version 1): what was made, from what, with
 * which numbers, how the checks went, and a digest of every file. Keys are as DESIGN's
 * "A job folder holds" names them.
 */
import { z } from "zod";
import type { CheckResult } from "../checks/check.ts";
import { cutterField } from "./cutter-entry.ts";
import type { ProfileUsed } from "./profile.ts";

export interface JobManifest {
  readonly plaitwrightJob: 1;
  readonly tool: { readonly name: string; readonly version: string };
  readonly title: string;
  /** None for a test piece, which is drawn from the profile alone. */
  readonly design?: { readonly file: string; readonly sha256: string };
  readonly profile: ProfileUsed;
  /** What was used in the end: from the options, else the design, else the profile. */
  readonly settings?: {
    readonly pitchMm: readonly [number, number];
    readonly widthMm: number;
    readonly gapMm: number;
    readonly corner: "pointed" | "round";
    readonly [number: string]: number | string | readonly [number, number];
  };
  /** The finished piece, mm. */
  readonly size: { readonly width: number; readonly height: number };
  readonly counts: Readonly<Record<string, number>>;
  readonly checks: readonly CheckResult[];
  readonly files: readonly JobFile[];
  readonly layers: readonly { readonly name: string; readonly purpose: string; readonly entities: number }[];
  /** Figures of the work: lengths, times, areas; each craft has its own. */
  readonly work?: Readonly<Record<string, number>>;
  readonly cautions: readonly string[];
  readonly standingLine: string;
}

export interface JobFile {
  /** Relative to the job folder, with forward slashes. */
  readonly path: string;
  readonly kind: string;
  readonly purpose: string;
  readonly sha256: string;
}

const sha256 = z
  .string()
  .regex(/^[0-9a-f]{64}$/)
  .meta({ description: "SHA-256 of the file's bytes, hexadecimal" });

const count = z.int().min(0);
const mm = (description: string) => z.number().meta({ description, unit: "mm" });

const check = z.strictObject({
  rule: z.string().meta({ description: "Name of the rule" }),
  title: z.string().meta({ description: "What is asked, in plain words" }),
  verdict: z.enum(["pass", "warning", "fail"]),
  measured: z
    .number()
    .nullable()
    .meta({ description: "The worst value found; null where there was nothing to measure" }),
  limit: z.number().nullable(),
  sense: z.enum(["least", "greatest"]).meta({ description: "Which side of the limit passes" }),
  unit: z.enum(["mm", "mm2", "degrees", "count", "percent", "per-mm2", "yes-no"]),
  count: count.meta({ description: "Places that fall short" }),
  places: z
    .array(z.strictObject({ x: z.number(), y: z.number() }))
    .meta({ description: "Some of them, mm from the lower left corner of the finished piece" }),
  remedies: z.array(
    z.strictObject({
      change: z.string().meta({ description: "The option or profile number to change" }),
      value: z.union([z.number(), z.tuple([z.number(), z.number()]), z.string()]),
      text: z.string(),
    }),
  ),
  note: z.string().meta({ description: "What passing or failing means at the bench" }),
});

export const jobManifestSchema = z
  .strictObject({
    plaitwrightJob: z.literal(1).meta({ description: "Version of the job format" }),
    tool: z.strictObject({ name: z.string(), version: z.string() }),
    title: z.string(),
    design: z
      .strictObject({ file: z.string(), sha256 })
      .exactOptional()
      .meta({ description: "The design file; none for a test piece" }),
    profile: z.strictObject({
      name: z.string(),
      craft: z.string(),
      numbers: z.record(z.string(), z.number()),
      choices: z.record(z.string(), z.union([z.string(), z.boolean()])),
      cutters: z.array(cutterField).exactOptional(),
    }),
    settings: z
      .object({
        pitchMm: z.tuple([mm("Across"), mm("Down")]),
        widthMm: mm("Width of the ribbon"),
        gapMm: mm("Clear space beside a crossing ribbon"),
        corner: z.enum(["pointed", "round"]),
      })
      .catchall(z.union([z.number(), z.string()]))
      .exactOptional()
      .meta({ description: "What was used: from the options, else the design, else the profile" }),
    size: z
      .strictObject({ width: mm("Width"), height: mm("Height") })
      .meta({ description: "Of the finished piece" }),
    counts: z.record(z.string(), z.number()),
    checks: z.array(check),
    files: z.array(
      z.strictObject({
        path: z.string().meta({ description: "Relative to the job folder" }),
        kind: z.string(),
        purpose: z.string(),
        sha256,
      }),
    ),
    layers: z.array(z.strictObject({ name: z.string(), purpose: z.string(), entities: count })),
    work: z
      .record(z.string(), z.number())
      .exactOptional()
      .meta({ description: "Figures of the work, mm, mm2 or seconds as the names say" }),
    cautions: z.array(z.string()),
    standingLine: z.string(),
  })
  .meta({
    title: "plaitwright job",
    description: "Manifest of a job folder: job.json",
  }) satisfies z.ZodType<JobManifest>;
