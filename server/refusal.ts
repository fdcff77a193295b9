import type { Finding } from "undervoice";

/** Ends a request with a status of its own and findings that say why. */
export class Refusal extends Error {
  readonly status: number;
  readonly findings: readonly Finding[];
  /** Headers the answer needs besides, such as Retry-After. */
  readonly headers: Readonly<Record<string, string>>;

  constructor(status: number, findings: readonly Finding[], headers: Readonly<Record<string, string>> = {}) {
    super(findings.map(({ message }) => message).join(" "));
    this.name = "Refusal";
    this.status = status;
    this.findings = findings;
    this.headers = headers;
  }
}

/** A finding about the request itself; no place in a score belongs to it. */
export type RequestFinding = Omit<Finding, "severity" | "place">;

/** A refusal for one reason. */
export const refusal = (
  status: number,
  finding: RequestFinding,
  headers: Readonly<Record<string, string>> = {},
): Refusal => new Refusal(status, [{ ...finding, severity: "error", place: {} }], headers);
