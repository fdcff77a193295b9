import type { AnswerTo, Order } from "../order.js";

/** What a worker says to the one who started it. */
export type WorkerMessage =
  /** Everything is loaded, and an order can be given. */
  | { readonly kind: "ready" }
  | { readonly kind: "answer"; readonly answer: AnswerTo<Order> }
  /** Work that failed by a mistake of ours; the worker itself goes on. */
  | { readonly kind: "mistake"; readonly message: string; readonly stack: string | undefined };

/** Makes this process a worker: one order after another comes in, one answer each goes out. */
export function answerMessages(answer: (order: Order) => AnswerTo<Order>): void {
  // An interrupt in a terminal reaches every process of the program; the one in charge says when to end.
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => {});
  process.on("disconnect", () => process.exit());
  process.on("message", (order: Order) => say(answerOrMistake(order)));
  say({ kind: "ready" });

  function answerOrMistake(order: Order): WorkerMessage {
    try {
      return { kind: "answer", answer: answer(order) };
    } catch (error) {
      const { message, stack } = error instanceof Error ? error : new Error(String(error));
      return { kind: "mistake", message, stack };
    }
  }
}

const say = (message: WorkerMessage): void => void process.send?.(message);
