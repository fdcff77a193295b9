import { FILE_LIMITS } from "undervoice";
import { USUAL_WORKERS } from "#built/work/workers/worker-pool.js";

/** What the service takes on before it refuses. Times in milliseconds, sizes in bytes. */
export interface ServiceLimits {
  /** A score that is no zip, and one that is; counted as the bytes arrive. */
  readonly plainBytes: number;
  readonly zippedBytes: number;
  /** Options and wishes as a part of the body. */
  readonly optionsBytes: number;
  /** Everything held for all clients together, from its first byte until its answer has gone. */
  readonly heldBytes: number;
  /** Scores worked on at once, a worker each. */
  readonly workers: number;
  /** Scores that wait for a worker. */
  readonly waiting: number;
  /** Work on one score, from the moment a worker has it. */
  readonly workMs: number;
  /** Heap of one worker, in MiB. */
  readonly workerMemoryMb: number;
  /** When a refused client may try again, in seconds. */
  readonly retryAfterSeconds: number;
  readonly headersMs: number;
  /** The whole request, its body included. */
  readonly requestMs: number;
  /** A connection on which nothing is asked. */
  readonly idleMs: number;
  /** Open connections on each of the two addresses. */
  readonly connections: number;
  /** How long the rest of a refused body is thrown away, so that its sender gets to read the answer. */
  readonly lingerMs: number;
}

export const SERVICE_LIMITS: ServiceLimits = {
  plainBytes: FILE_LIMITS.plainBytes,
  zippedBytes: FILE_LIMITS.zippedBytes,
  optionsBytes: 500_000,
  heldBytes: 256_000_000,
  workers: USUAL_WORKERS,
  waiting: 64,
  workMs: 60_000,
  workerMemoryMb: 2_048,
  retryAfterSeconds: 5,
  headersMs: 10_000,
  requestMs: 30_000,
  idleMs: 5_000,
  connections: 64,
  lingerMs: 2_000,
};
