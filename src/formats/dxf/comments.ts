import type { Drawing } from "../../output/drawing.ts";
import type { TagText } from "./tag-text.ts";

/** Title, notes and the purpose of each layer as comments, for people who open the file as text. */
export function writeComments(text: TagText, drawing: Drawing): void {
  text.comment(drawing.title);
  for (const note of drawing.notes) text.comment(note);
  for (const { name, purpose } of drawing.layers) text.comment(`${name}: ${purpose}`);
}
