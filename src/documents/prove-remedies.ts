/**
 * No remedy is offered untried: each is taken up, the job measured again, and the remedy kept
 * if its check then passes. If not, the new measurement tells how far the change must go, and
 * that is tried, a few times over.
 */
import type { CheckResult, Remedy } from "../checks/check.ts";
import { applyRemedy, type JobRequest } from "./apply-remedy.ts";

/** Measured again with a change made; undefined where such a job cannot be had. */
export type TryOut = (request: JobRequest) => readonly CheckResult[] | undefined;

/** Each try comes nearer; what has not passed by then is no good remedy. */
const MOST_TRIES = 6;

/** The checks with those remedies only that make their check pass, their numbers put right. */
export function proveRemedies(
  checks: readonly CheckResult[],
  request: JobRequest,
  tryOut: TryOut,
): CheckResult[] {
  return checks.map((check) =>
    check.verdict === "fail"
      ? { ...check, remedies: check.remedies.flatMap((remedy) => proven(remedy, check, request, tryOut)) }
      : check,
  );
}

function proven(remedy: Remedy, { rule }: CheckResult, request: JobRequest, tryOut: TryOut): Remedy[] {
  let tried = remedy;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const again = tryOut(applyRemedy(request, tried))?.find((check) => check.rule === rule);
    if (again?.verdict === "pass") return [tried];
    const next = again?.remedies.find(({ change }) => change === tried.change);
    if (!next) return [];
    tried = next;
  }
  return [];
}
