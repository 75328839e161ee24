/** Trade formulas of router work; their check values stand in the published table of the tests. */

/** mm per minute: turns a minute x cutting edges x chip of each edge (common to machining handbooks). */
export function feedRate(rpm: number, flutes: number, chipLoadMm: number): number {
  return rpm * flutes * chipLoadMm;
}

/** Height of the ridge that a ball of this radius leaves between paths this far apart on a flat, mm: the bow of a chord. */
export function scallopHeight(radiusMm: number, stepOverMm: number): number {
  return radiusMm - Math.sqrt(Math.max(0, radiusMm * radiusMm - (stepOverMm * stepOverMm) / 4));
}

/** The other way round: how far apart paths may lie for ridges of this height, mm. */
export function scallopStepOver(radiusMm: number, heightMm: number): number {
  const height = Math.min(heightMm, radiusMm);
  return 2 * Math.sqrt(2 * radiusMm * height - height * height);
}

/**
 * Change of a panel's width across the grain, mm, for a change of moisture in percent
 * (Wood Handbook, USDA Forest Products Laboratory, chapter 13: width x coefficient x change).
 */
export function woodMovement(widthMm: number, perPercent: number, changePercent: number): number {
  return widthMm * perPercent * changePercent;
}
