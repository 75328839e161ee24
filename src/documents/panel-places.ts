/** The lines and columns of faults that were found in the rows of a panel after its document was read. */
import type { Fault } from "../base/fault.ts";
import { parseJson } from "./json-text.ts";

/**
 * The faults with file, line and column; `text` is the document that the rows came from. A
 * place within a row counts from the row's opening quote: its column is exact unless the row
 * holds escapes (`\u0020`) before it.
 */
export function placePanelFaults(faults: readonly Fault[], text: string, file: string): Fault[] {
  const json = parseJson(text, file);
  if (!json.ok) return [...faults];
  return faults.map((fault) => {
    const { path } = fault;
    // Not about this document: an option, a setting, or a file that it includes.
    if (!path || fault.file !== undefined) return fault;
    if (!("placeColumn" in fault)) return { ...fault, file, ...json.value.locate(path) };
    const row = json.value.locate([...path, fault.row]);
    return { ...fault, file, ...(row && { line: row.line, column: row.column + 1 + fault.placeColumn }) };
  });
}
