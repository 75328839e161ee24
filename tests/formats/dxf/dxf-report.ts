import { runReader, withFiles } from "../../support/external.ts";

/** What tests/readers/dxf_report.py prints. */
export interface DxfReport {
  readonly errors: readonly string[];
  readonly fixes: readonly string[];
  readonly version: string;
  readonly units: number;
  readonly metric: number | null;
  readonly extents: readonly (readonly number[])[];
  readonly table: Readonly<Record<string, { readonly colour: number; readonly lineType: string }>>;
  readonly order: readonly string[];
  readonly owned: boolean;
  readonly finite: boolean;
  readonly layers: Readonly<
    Record<
      string,
      {
        readonly closed: number;
        readonly open: number;
        readonly lengths: readonly number[];
        readonly areas: readonly number[];
        readonly kinds: Readonly<Record<string, number>>;
      }
    >
  >;
}

export function dxfReport(text: string): DxfReport {
  return withFiles({ "sample.dxf": text }, (pathOf) =>
    runReader("dxf_report.py", [pathOf("sample.dxf")]),
  ) as DxfReport;
}

/** Whether two figures agree to a millionth. */
export function agrees(actual: number | undefined, expected: number): boolean {
  return actual !== undefined && Math.abs(actual - expected) <= 1e-6 * Math.abs(expected);
}
