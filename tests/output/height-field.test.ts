import { expect, test } from "vitest";
import { croppedField, flatField } from "../../src/output/height-field.ts";

test("a field covers its box, and a part of it keeps its heights and places", () => {
  const field = flatField({ minX: -1, minY: 2, maxX: 3, maxY: 5 }, 0.5, 0);
  expect([field.columns, field.rows]).toEqual([8, 6]);
  for (let i = 0; i < field.z.length; i++) field.z[i] = i;
  // Middles at -0.75, -0.25 … and 2.25, 2.75 …: from 0 to 1.5 three columns, from 3 to 4 two rows.
  const part = croppedField(field, { minX: 0, minY: 3, maxX: 1.5, maxY: 4 });
  expect(part).toMatchObject({ columns: 3, rows: 2, minX: 0, minY: 3, stepMm: 0.5 });
  expect([...part.z]).toEqual([18, 19, 20, 26, 27, 28]);
});
