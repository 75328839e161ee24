const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };

/** What XML 1.0 (section 2.2) lets stand in a document: no control characters, no half surrogate pairs. */
const NOT_A_CHARACTER = /[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu;

/** Text as element content or a double-quoted attribute; characters that XML forbids become U+FFFD. */
export function xmlText(text: string): string {
  return text.replace(NOT_A_CHARACTER, "\uFFFD").replace(/[&<>"]/g, (mark) => ENTITIES[mark] ?? mark);
}
