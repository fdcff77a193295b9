import type { RequestHandler } from "express";
import type { Schema } from "../jobs/job.js";
import type { ServiceLimits } from "../limits.js";
import type { BodyReader } from "../requests/read-body.js";
import type { Workshop } from "../workshop.js";

/** What resources answer from. */
export interface ServiceParts {
  readonly version: string;
  readonly limits: ServiceLimits;
  readonly workshop: Workshop;
  readonly readBody: BodyReader;
  /** All there are, these among them. */
  readonly resources: readonly Resource[];
}

/** One path of the service with the one method it takes. */
export interface Resource {
  readonly path: `/${string}`;
  readonly method: "get" | "post";
  /** One line for lists. */
  readonly summary: string;
  /** Whether it answers without the token too. */
  readonly isOpen: boolean;
  /** The OpenAPI operation, but for what all of them have in common. */
  readonly operation: Schema;
  /** What the operation refers to as #/components/schemas/NAME. */
  readonly schemas: Readonly<Record<string, Schema>>;
  answer(parts: ServiceParts): RequestHandler;
}

/** A resource that is read and takes nothing. */
export const readOnly = (
  resource: Pick<Resource, "path" | "summary" | "answer"> & {
    readonly description: string;
    readonly schema: Schema;
    readonly isOpen?: boolean;
  },
): Resource => ({
  path: resource.path,
  method: "get",
  summary: resource.summary,
  isOpen: resource.isOpen ?? false,
  schemas: {},
  operation: {
    responses: {
      200: {
        description: resource.description,
        content: { "application/json": { schema: resource.schema } },
      },
    },
  },
  answer: resource.answer,
});
