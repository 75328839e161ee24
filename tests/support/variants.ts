/** One table row tests many states: the same curve reversed, restarted, moved, turned, mirrored. */
import { type ArcChain, restartChain, reverseChain } from "../../src/geometry/arc-chain.ts";
import { mirrorAt, moveBy, type Transform, transformChain, turnBy } from "../../src/geometry/transform.ts";

export interface Variant {
  readonly name: string;
  readonly chain: ArcChain;
  /** The signed area of the variant is this times that of the original; -1 also exchanges left and right. */
  readonly sense: 1 | -1;
  /** Where a point of the original lies in the variant. */
  readonly move: Transform;
}

const STILL = moveBy(0, 0);

/** All states of a chain. Open chains can't be restarted. */
export function variantsOf(chain: ArcChain): readonly Variant[] {
  const moved = (name: string, sense: 1 | -1, move: Transform): Variant => ({
    name,
    sense,
    move,
    chain: transformChain(chain, move),
  });
  return [
    { name: "as it is", chain, sense: 1, move: STILL },
    { name: "reversed", chain: reverseChain(chain), sense: -1, move: STILL },
    ...(chain.closed
      ? chain.vertices.slice(1).map(
          (_, i): Variant => ({
            name: `restarted at ${i + 1}`,
            chain: restartChain(chain, i + 1),
            sense: 1,
            move: STILL,
          }),
        )
      : []),
    moved("moved", 1, moveBy(123.456, -78.9)),
    moved("turned by 1 radian", 1, turnBy(1)),
    moved("turned by a quarter", 1, turnBy(Math.PI / 2)),
    moved("mirrored", -1, mirrorAt(3)),
  ];
}
