/** JSON Schemas (draft 2020-12) of our documents, for editors and other tools. */
import { z } from "zod";
import { designSchema } from "./design.ts";
import { jobManifestSchema } from "./job-manifest.ts";
import { profileSchema } from "./profile.ts";
import { setSchema } from "./set.ts";

const SCHEMAS = [
  ["design.schema.json", designSchema],
  ["set.schema.json", setSchema],
  ["profile.schema.json", profileSchema],
  ["job.schema.json", jobManifestSchema],
] as const;

/** Each schema file as it stands in `shared/`. Rules that span several keys are not in them. */
export function schemaFiles(): readonly { readonly name: string; readonly text: string }[] {
  return SCHEMAS.map(([name, schema]) => {
    const json = z.toJSONSchema(schema, { target: "draft-2020-12", io: "input" });
    return { name, text: `${JSON.stringify(json, null, 2)}\n` };
  });
}
