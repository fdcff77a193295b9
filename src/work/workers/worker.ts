import { answerOrder } from "../answer-order.js";
import { answerMessages } from "./answer-messages.js";

answerMessages(answerOrder);
