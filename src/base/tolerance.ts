/**
 * Every tolerance of the project, each with its meaning. Tolerances measure; sides and
 * orders are decided by exact predicates (geometry/side.ts) or by topology.
 */

/** Two computed points closer than this are one point. */
export const SAME_POINT_MM = 1e-6;

/** Coordinates in machine files are multiples of this. */
export const OUTPUT_GRID_MM = 1e-3;

/** The furthest a chord may stray from its arc where a consumer cannot take arcs. */
export const CHORD_ERROR_MM = 1e-2;

/** Two directions (radians) closer than this are one: a joint between them is smooth. */
export const SAME_DIRECTION_RAD = 1e-7;

/**
 * A measured value this close to its limit still passes: a hundredth of the output grid,
 * so that a remedy printed to three decimals passes, and no machine can tell.
 */
export const LIMIT_SLACK_MM = 1e-5;
