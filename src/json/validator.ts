/** What one rule of a JSON Schema finds wrong. */
export interface SchemaFault {
  /** The rule, such as "required" or "enum". */
  readonly keyword: string;
  /** Where, as a JSON pointer; empty for the whole. */
  readonly instancePath: string;
  /** What is there. */
  readonly data?: unknown;
  /** What the rule asks for, by the names ajv gives. */
  readonly params: Readonly<Record<string, unknown>>;
  /** What would work, such as "must be integer". */
  readonly message?: string;
}

/** Says whether a value is what a schema describes; `errors` is about the last value asked about. */
export interface Validator {
  (value: unknown): boolean;
  readonly errors?: readonly SchemaFault[] | null;
}
