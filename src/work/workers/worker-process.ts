import { type ChildProcess, fork } from "node:child_process";
import type { AnswerTo, Order } from "../order.js";
import type { WorkerMessage } from "./answer-messages.js";
import { WorkStopped } from "./work-stopped.js";

export interface WorkLimits {
  /** Work on one order, in milliseconds, from the moment a worker has it. */
  readonly workMs: number;
  /** Heap of one worker, in MiB. */
  readonly workerMemoryMb: number;
}

/** V8 writes this before it gives up, and ends the process by a signal. */
const OUT_OF_MEMORY = /heap out of memory|invalid table size|invalid array length/i;

/** So much of what a worker wrote last is kept, in characters: V8's words come before a trace. */
const LAST_WORDS = 4_000;

/** A program that ends leaves nobody behind; one that is killed leaves them until their score is done. */
const RUNNING = new Set<ChildProcess>();
process.on("exit", () => {
  for (const child of RUNNING) child.kill("SIGKILL");
});

/** Flags of this process that its workers have no use for: a debugger's port is taken already. */
const OURS_ALONE = /^--inspect/;

/**
 * One worker: a process of its own. A thread would do but for one thing: V8 ends the whole process when a single
 * allocation passes a thread's limit, and all other work with it.
 */
export class WorkerProcess {
  readonly #child: ChildProcess;
  readonly #limits: WorkLimits;
  readonly #onGone: () => void;
  #lastWords = "";
  #isGone = false;
  /** Where the next message goes, or the news that there will be none. */
  #hear: { resolve(message: WorkerMessage): void; reject(error: unknown): void } | undefined;
  readonly #ready: Promise<WorkerMessage>;

  /**
   * @param file module that calls `answerMessages`
   * @param onGone called once, when it can be given no more orders
   */
  constructor(file: string, limits: WorkLimits, onGone: () => void) {
    this.#limits = limits;
    this.#onGone = onGone;
    this.#child = fork(file, {
      // What this process may not do, as by --permission, its workers may not either.
      execArgv: [
        ...process.execArgv.filter((flag) => !OURS_ALONE.test(flag)),
        `--max-old-space-size=${limits.workerMemoryMb}`,
      ],
      serialization: "advanced",
      stdio: ["ignore", "ignore", "pipe", "ipc"],
    });
    RUNNING.add(this.#child);
    this.#ready = this.#nextMessage();
    // Asked for again by every order; without one, nobody has to hear of it.
    this.#ready.catch(() => {});
    this.#child.stderr?.setEncoding("utf8").on("data", (text: string) => {
      this.#lastWords = (this.#lastWords + text).slice(-LAST_WORDS);
    });
    this.#child.on("message", (message) => this.#hear?.resolve(message as WorkerMessage));
    this.#child.on("error", (error) => this.#gone(error));
    // Not "exit": its last words may still be on their way then.
    this.#child.on("close", (code, signal) => {
      RUNNING.delete(this.#child);
      this.#gone(this.#whyGone(code, signal));
    });
  }

  /** Whether it can be given no more orders. */
  get isGone(): boolean {
    return this.#isGone;
  }

  /**
   * One order at a time. Once `gone` is aborted the worker ends, whatever it is doing.
   *
   * @throws WorkStopped where the work takes too long or too much, and any mistake of the worker's own
   */
  async answer(order: Order, gone: AbortSignal | undefined): Promise<AnswerTo<Order>> {
    const stop = () => this.#stop(gone?.reason);
    gone?.addEventListener("abort", stop);
    let timer: NodeJS.Timeout | undefined;
    try {
      await this.#ready;
      gone?.throwIfAborted();
      const { workMs } = this.#limits;
      timer = setTimeout(() => this.#stop(new WorkStopped("time", workMs / 1000)), workMs);
      const message = this.#nextMessage();
      this.#child.send(order, (error) => error !== null && this.#gone(error));
      return answerIn(await message);
    } finally {
      clearTimeout(timer);
      gone?.removeEventListener("abort", stop);
    }
  }

  /** Ends it, whatever it is doing. */
  end(): void {
    this.#stop(new Error("the worker was ended"));
  }

  #nextMessage(): Promise<WorkerMessage> {
    return new Promise((resolve, reject) => {
      this.#hear = { resolve, reject };
    });
  }

  #stop(why: unknown): void {
    this.#gone(why);
    this.#child.kill("SIGKILL");
  }

  #gone(why: unknown): void {
    this.#hear?.reject(why);
    if (this.#isGone) return;
    this.#isGone = true;
    this.#onGone();
  }

  #whyGone(code: number | null, signal: NodeJS.Signals | null): Error {
    if (OUT_OF_MEMORY.test(this.#lastWords)) return new WorkStopped("memory", this.#limits.workerMemoryMb);
    const how = signal === null ? `ended by itself (${code})` : `was ended (${signal})`;
    const words = this.#lastWords.trim();
    return new Error(`a worker ${how}${words && `: ${words}`}`);
  }
}

function answerIn(message: WorkerMessage): AnswerTo<Order> {
  if (message.kind === "answer") return message.answer;
  const error = new Error(message.kind === "mistake" ? message.message : `a worker said ${message.kind}`);
  if (message.kind === "mistake" && message.stack !== undefined) error.stack = message.stack;
  throw error;
}
