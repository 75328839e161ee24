/** Writes the JSON Schemas of our documents to `shared/`; run with `npm run schemas` after a change of format. */
import { writeFileSync } from "node:fs";
import { schemaFiles } from "../documents/schemas.ts";

// This file runs as dist/src/cli/write-schemas.js.
const shared = new URL("../../../shared/", import.meta.url);

for (const { name, text } of schemaFiles()) writeFileSync(new URL(name, shared), text);
