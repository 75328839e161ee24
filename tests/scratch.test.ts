import { test } from "vitest";
import { wovenPanel } from "./support/panel-piece.ts";
import { edgeCurve, isOver, nextSlot, opposite, twin } from "../src/diagram/knot-diagram.ts";
import { strandWalk } from "../src/diagram/strands.ts";
import { chainLength, joinChains, mergeStraights, reverseChain, chainPart } from "../src/geometry/arc-chain.ts";
import { offsetChain } from "../src/geometry/offset.ts";
import { firstMeet } from "../src/geometry/first-meet.ts";
const rows = ["+ + +"," o-o ","+-+x+"," oxo ","+ + +"];
test("x", () => {
  const { diagram, strands } = wovenPanel(rows, "Z", { pitchMm: { across: 10, down: 10 }, corner: "round" });
  for (let h = 0; h < 8; h++) console.log(h, "twin", twin(diagram, h), isOver(diagram, h), chainLength(edgeCurve(diagram, h)).toFixed(2), JSON.stringify(edgeCurve(diagram, h).vertices.map((v) => [v.x.toFixed(2), v.y.toFixed(2), v.bulge.toFixed(2)].join(" "))));
  for (const half of strands.first) console.log([...strandWalk(diagram, half)]);
  for (let h = 0; h < 8; h++) {
    if (isOver(diagram, h)) continue;
    const reach = 9.6;
    const c = (x: any) => chainPart(x, 0, Math.min(reach, chainLength(x)));
    const over = mergeStraights(joinChains([reverseChain(c(edgeCurve(diagram, opposite(nextSlot(h, 1))))), c(edgeCurve(diagram, nextSlot(h, 1)))], false));
    const off = offsetChain(over, -2.1, "pointed");
    console.log("cap", h, off.length, off.map((o) => chainLength(o).toFixed(2)));
    const right = offsetChain(edgeCurve(diagram, h), -1.5, "pointed");
    const left = offsetChain(edgeCurve(diagram, h), 1.5, "pointed");
    console.log(right.length, left.length, off[0] && JSON.stringify([firstMeet(right[0]!, off[0]), firstMeet(left[0]!, off[0])]));
  }
});
