/** A broken invariant: a fault of ours, never of the person's input (exit code 70). */
export class InternalError extends Error {
  override readonly name = "InternalError";
}
