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

/** The furthest that arcs may stray from the curve that they are fitted to: half of what a chord may, so that both together stay small. */
export const FIT_ERROR_MM = 5e-3;

/** Ends of drawn lines closer than this are joined: less than a pen's width, more than drawing programs round. */
export const JOIN_ENDS_MM = 5e-2;

/** Crossings of one drawing closer than this cannot be told from three strands through one place. */
export const LEAST_BETWEEN_CROSSINGS_MM = 0.1;

/** Two directions (radians) closer than this are one: a joint between them is smooth. */
export const SAME_DIRECTION_RAD = 1e-7;

/**
 * A measured value this close to its limit still passes: a hundredth of the output grid,
 * so that a remedy printed to three decimals passes, and no machine can tell.
 */
export const LIMIT_SLACK_MM = 1e-5;
