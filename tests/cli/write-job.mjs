// Writes a job folder with the built code in a process of its own, so that a test can limit,
// disturb or kill it: node write-job.mjs TARGET TEXT BYTES [USER-ID]. Prints the result as JSON.
import { writeJobFolder } from "../../dist/src/cli/job-folder.js";

const [target, text, bytes, userId] = process.argv.slice(2);
if (userId !== undefined) process.setuid(Number(userId));
const manifest = { plaitwrightJob: 1, files: [{ path: "cut.dxf" }, { path: "sheet.txt" }] };
const result = writeJobFolder(target, [
  { path: "job.json", content: JSON.stringify(manifest) },
  { path: "sheet.txt", content: text },
  // The large file comes last: no later write can report what this one did not.
  { path: "cut.dxf", content: text.repeat(Math.ceil(Number(bytes) / text.length)).slice(0, Number(bytes)) },
]);
process.stdout.write(JSON.stringify(result));
