/** `inspect`: what a design holds. */
import { inspectDesign } from "../documents/inspect-design.ts";
import { linkRecord } from "../documents/inspect-link.ts";
import { placePanelFaults } from "../documents/panel-places.ts";
import { memoryFault } from "./memory.ts";
import { besideOf, readDesign } from "./read-input.ts";
import { EXIT, print, printInspection, printJson, printLink, printPicture, tellFaults } from "./report.ts";

export interface InspectOptions {
  readonly json?: boolean;
  readonly pd?: boolean;
  readonly link?: boolean;
}

/** Answers the exit code. */
export function runInspect(file: string, { json = false, pd = false, link = false }: InspectOptions): number {
  const loaded = readDesign(file);
  if (!loaded.ok) return tellFaults(loaded.faults, json);
  const { design, title, text } = loaded.value;
  const memory = memoryFault(design.panel, "inspect");
  if (memory) return tellFaults([{ ...memory, file }], json);
  const inspected = inspectDesign(design, besideOf(file));
  if (!inspected.ok) return tellFaults(placePanelFaults(inspected.faults, text, file), json);
  const { inspection, planarDiagramCode, link: linkOf, picture } = inspected.value;
  if (json) {
    printJson({
      title,
      ...inspection,
      ...(link ? { link: linkRecord(linkOf()) } : {}),
      ...(pd ? { pd: planarDiagramCode() } : {}),
    });
    return EXIT.done;
  }
  printInspection(title, inspection);
  if (link) printLink(linkOf());
  if (pd) print(`  pd         ${JSON.stringify(planarDiagramCode())}`);
  if (picture) printPicture(picture());
  return EXIT.done;
}
