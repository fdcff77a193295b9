import { oneLine } from "../../one-line.js";
import { answerOrder } from "../../work/answer-order.js";
import type { Order } from "../../work/order.js";
import type { Outside } from "../outside.js";

/** An order done; who waits is told what for, such as "Arranging" a file, unless all is to be quiet. */
export const answered = <Asked extends Order>(
  order: Asked,
  { doing, file, isQuiet }: { readonly doing: string; readonly file: string; readonly isQuiet: boolean },
  outside: Outside,
) =>
  isQuiet ? answerOrder(order) : outside.duringWork(`${doing} ${oneLine(file)}`, () => answerOrder(order));
