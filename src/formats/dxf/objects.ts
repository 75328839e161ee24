/**
 * The two DXF objects that `dxf-writer` does not write as R2000 asks: a polyline whose layer
 * stands in the entity part, and a block record without the fields of later releases.
 * Subclass markers and group codes: DXF Reference, LWPOLYLINE and BLOCK_RECORD.
 */
import DatabaseObject from "dxf-writer/src/DatabaseObject.js";
import type { ArcChain } from "../../geometry/arc-chain.ts";

const CLOSED = 1;

export class LightPolyline extends DatabaseObject {
  readonly #chain: ArcChain;
  readonly #layer: string;

  constructor(chain: ArcChain, layer: string, ownerHandle: string) {
    super(["AcDbEntity"]);
    this.ownerObjectHandle = ownerHandle;
    this.#chain = chain;
    this.#layer = layer;
  }

  override tags(sink: DatabaseObject.Sink): void {
    const { closed, vertices } = this.#chain;
    sink.push(0, "LWPOLYLINE");
    super.tags(sink);
    sink.push(8, this.#layer);
    sink.push(100, "AcDbPolyline");
    sink.push(90, vertices.length);
    sink.push(70, closed ? CLOSED : 0);
    sink.push(43, 0);
    for (const { x, y, bulge } of vertices) {
      sink.push(10, x);
      sink.push(20, y);
      if (bulge !== 0) sink.push(42, bulge);
    }
  }
}

export class BlockRecord extends DatabaseObject {
  readonly #name: string;

  constructor(name: string) {
    super(["AcDbSymbolTableRecord", "AcDbBlockTableRecord"]);
    this.#name = name;
  }

  override tags(sink: DatabaseObject.Sink): void {
    sink.push(0, "BLOCK_RECORD");
    super.tags(sink);
    sink.push(2, this.#name);
  }
}
