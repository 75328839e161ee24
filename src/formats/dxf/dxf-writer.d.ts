/**
 * The parts of the package `dxf-writer` that this folder uses. Its own types cover neither
 * the source files nor the classes as they are at run time.
 */
declare module "dxf-writer/src/Handle.js" {
  /** Hands out object handles from a counter that the whole process shares. */
  const Handle: { seed: number; peek(): string };
  export = Handle;
}

declare module "dxf-writer/src/DatabaseObject.js" {
  class DatabaseObject {
    constructor(subclassMarkers: readonly string[]);
    handle: string;
    ownerObjectHandle: string;
    tags(sink: DatabaseObject.Sink): void;
  }
  namespace DatabaseObject {
    interface Sink {
      push(code: number, value: string | number): void;
      point(x: number, y: number, z?: number): void;
    }
  }
  export = DatabaseObject;
}

declare module "dxf-writer/src/Table.js" {
  import DatabaseObject from "dxf-writer/src/DatabaseObject.js";

  class Table extends DatabaseObject {
    constructor(name: string);
    add(element: DatabaseObject): void;
  }
  export = Table;
}

declare module "dxf-writer/src/Drawing.js" {
  import DatabaseObject from "dxf-writer/src/DatabaseObject.js";

  class Drawing {
    readonly dictionary: DatabaseObject;
    readonly layers: Readonly<Record<string, DatabaseObject>>;
    readonly lineTypes: Readonly<Record<string, DatabaseObject>>;
    readonly tables: Readonly<Record<string, DatabaseObject>>;
    readonly blocks: Readonly<Record<string, DatabaseObject & { name: string; end: DatabaseObject }>>;
    addLayer(name: string, colourIndex: number, lineType: string): Drawing;
  }
  export = Drawing;
}
