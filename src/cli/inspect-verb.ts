/** `inspect`: what a design holds. */
import { inspectDesign } from "../documents/inspect-design.ts";
import { placePanelFaults } from "../documents/panel-places.ts";
import { memoryFault } from "./memory.ts";
import { readDesign } from "./read-input.ts";
import { EXIT, print, printInspection, printJson, printPicture, tellFaults } from "./report.ts";

/** Answers the exit code. */
export function runInspect(
  file: string,
  { json = false, pd = false }: { readonly json?: boolean; readonly pd?: boolean },
): number {
  const loaded = readDesign(file);
  if (!loaded.ok) return tellFaults(loaded.faults, json);
  const { design, title, text } = loaded.value;
  const memory = memoryFault(design.panel, "inspect");
  if (memory) return tellFaults([{ ...memory, file }], json);
  const inspected = inspectDesign(design);
  if (!inspected.ok) return tellFaults(placePanelFaults(inspected.faults, text, file), json);
  const { inspection, planarDiagramCode, picture } = inspected.value;
  if (json) {
    printJson({ title, ...inspection, ...(pd ? { pd: planarDiagramCode() } : {}) });
    return EXIT.done;
  }
  printInspection(title, inspection);
  if (pd) print(`  pd         ${JSON.stringify(planarDiagramCode())}`);
  printPicture(picture());
  return EXIT.done;
}
