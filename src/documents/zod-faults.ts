/**
 * From zod's issues to our faults, for every document alike. An issue says little more than
 * where it lies; what was found is looked up in the value, and what is allowed in the schema.
 */
import { z } from "zod";
import { done, type Fault, type FaultFacts, type Result } from "../base/fault.ts";
import { NAME_PATTERN } from "./fields.ts";
import type { JsonPath, JsonText } from "./json-text.ts";

type Issue = z.core.$ZodIssue;

/** A list of a million wrong entries would give as many messages; nobody reads on after so many. */
const MOST_ISSUES = 1000;

/** A fault and the document path that it lies at; not yet in a file. */
export type PathFault = FaultFacts & { readonly path: JsonPath };

/** The checked value, or every fault found, each with its file, path, line and column. */
export function checkDocument<S extends z.ZodType>(
  schema: S,
  json: JsonText,
  file: string,
): Result<z.output<S>> {
  const checked = schema.safeParse(json.value);
  if (checked.success) return done(checked.data);
  const issues = checked.error.issues.slice(0, MOST_ISSUES);
  const faults = issues.flatMap((issue) => faultsOf(issue, schema, json.value));
  return { ok: false, faults: placeFaults(faults, json, file) };
}

/** The faults with file, line and column. */
export function placeFaults(faults: readonly PathFault[], json: JsonText, file: string): Fault[] {
  return faults.map((fault) => ({ ...fault, file, ...json.locate(fault.path, partAtFault(fault)) }));
}

function partAtFault({ code }: FaultFacts): "key" | "value" {
  return code === "unknown-key" ? "key" : "value";
}

function faultsOf(issue: Issue, schema: z.ZodType, document: unknown): PathFault[] {
  const path = issue.path.filter((step) => typeof step !== "symbol");
  const schemas = schemasAt(schema, path);
  const found = valueAt(document, path);
  switch (issue.code) {
    case "unrecognized_keys": {
      const known = schemas.flatMap((each) => (each instanceof z.ZodObject ? Object.keys(each.shape) : []));
      return issue.keys.map((key) => ({ code: "unknown-key", found: key, known, path: [...path, key] }));
    }
    case "invalid_union":
      return unionFaults(issue, schema, document, path);
    case "too_small":
    case "too_big":
      return [{ ...sizeFault(found, issue, schemas), path }];
    case "invalid_format": {
      const code = issue.pattern === String(NAME_PATTERN) ? "unsafe-name" : "control-character";
      return [{ code, found: String(found), path }];
    }
    case "custom":
      return [{ ...(issue.params as FaultFacts), path }];
    default:
      return [kindFault(found, schemas, path)];
  }
}

/**
 * Of a union's branches the one that the person meant is that which takes the value's kind;
 * where none does, the kind itself is the fault.
 */
function unionFaults(
  issue: Extract<Issue, { code: "invalid_union" }>,
  schema: z.ZodType,
  document: unknown,
  path: JsonPath,
): PathFault[] {
  const meant = issue.errors.find(([first]) => !isRootKindIssue(first));
  if (!meant) return [kindFault(valueAt(document, path), schemasAt(schema, path), path)];
  return meant.flatMap((inner) =>
    faultsOf({ ...inner, path: [...path, ...inner.path] } as Issue, schema, document),
  );
}

function isRootKindIssue(issue: Issue | undefined): boolean {
  return issue?.code === "invalid_type" && issue.path.length === 0;
}

function kindFault(found: unknown, schemas: readonly z.ZodType[], path: JsonPath): PathFault {
  if (found === undefined) {
    const meaning = schemas.find((each) => each.description)?.description;
    const facts = { code: "missing-key", key: String(path.at(-1) ?? "") } as const;
    return { ...facts, ...(meaning === undefined ? {} : { meaning }), path: path.slice(0, -1) };
  }
  // 1e999 is JSON, and reads as infinity.
  if (found === Number.POSITIVE_INFINITY || found === Number.NEGATIVE_INFINITY) {
    return { ...rangeFault(found, schemas), path };
  }
  for (const each of schemas) {
    // The one literal of a document is its format version.
    if (each instanceof z.ZodLiteral) {
      return { code: "wrong-version", found: shown(found), known: Number(each.value), path };
    }
    if (each instanceof z.ZodEnum && typeof found === "string") {
      return { code: "unknown-word", found, known: each.options.map(String), path };
    }
  }
  return { code: "wrong-kind", found: shown(found), wanted: wantedKinds(schemas), path };
}

function sizeFault(
  found: unknown,
  issue: Extract<Issue, { code: "too_small" | "too_big" }>,
  schemas: readonly z.ZodType[],
): FaultFacts {
  if (typeof found === "number") return rangeFault(found, schemas);
  const of = typeof found === "string" ? "characters" : "entries";
  const length = typeof found === "string" || Array.isArray(found) ? found.length : 0;
  return issue.code === "too_small"
    ? { code: "too-short", length, least: Number(issue.minimum), of }
    : { code: "too-long", length, most: Number(issue.maximum), of };
}

function rangeFault(found: number, schemas: readonly z.ZodType[]): FaultFacts {
  const number = schemas.find((each) => each instanceof z.ZodNumber);
  const unit = number?.meta()?.["unit"];
  return {
    code: "number-out-of-range",
    found,
    ...(number?.minValue == null ? {} : { least: number.minValue }),
    ...(number?.maxValue == null ? {} : { greatest: number.maxValue }),
    unit: typeof unit === "string" ? unit : "",
  };
}

/** The schemas that a value at the path may follow: several where a union branches. */
function schemasAt(schema: z.core.$ZodType, path: JsonPath): z.ZodType[] {
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodExactOptional) {
    return schemasAt(schema.unwrap(), path);
  }
  if (schema instanceof z.ZodUnion) {
    return schema.options.flatMap((option) => schemasAt(option, path));
  }
  const [step, ...rest] = path;
  if (step === undefined) return schema instanceof z.ZodType ? [schema] : [];
  const inner = schemaUnder(schema, step);
  return inner ? schemasAt(inner, rest) : [];
}

function schemaUnder(schema: z.core.$ZodType, step: string | number): z.core.$ZodType | undefined {
  if (schema instanceof z.ZodObject) return schema.shape[step];
  if (schema instanceof z.ZodArray) return schema.element;
  if (schema instanceof z.ZodTuple) return schema.def.items[Number(step)];
  return schema instanceof z.ZodRecord ? schema.valueType : undefined;
}

function valueAt(document: unknown, path: JsonPath): unknown {
  let value = document;
  for (const step of path) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, step)) return undefined;
    value = Reflect.get(value, step);
  }
  return value;
}

/** A value as the document writes it; lists and groups by their brackets only. */
function shown(value: unknown): string {
  if (Array.isArray(value)) return value.length === 0 ? "[]" : "[…]";
  if (typeof value === "object" && value !== null) return "{…}";
  return JSON.stringify(value) ?? "nothing";
}

function wantedKinds(schemas: readonly z.ZodType[]): string {
  return [...new Set(schemas.map(wantedKind))].join(" or ");
}

function wantedKind(schema: z.ZodType): string {
  if (schema instanceof z.ZodNumber) return "a number";
  if (schema instanceof z.ZodString) return "a text in double quotes";
  if (schema instanceof z.ZodBoolean) return "true or false";
  if (schema instanceof z.ZodArray) return "a list in [ ]";
  if (schema instanceof z.ZodTuple) return `a list of ${schema.def.items.length} in [ ]`;
  if (schema instanceof z.ZodEnum) {
    return schema.options.map((option) => JSON.stringify(option)).join(" or ");
  }
  return "a group in { }";
}
