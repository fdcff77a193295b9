import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createContext, Script } from "node:vm";
import { portInTest } from "../server/service-in-test.js";
import { type AdapterInTest, adapterContract, type ExportedScore, type Outcome } from "./contract.js";

const CLIENT = fileURLToPath(
  new URL("../../plugin-adapters/script-client/undervoice-client.js", import.meta.url),
);
const script = new Script(readFileSync(CLIENT, "utf8"), { filename: CLIENT });
const port = await portInTest();

interface Trip {
  readonly isArranged: boolean;
  readonly note: string;
}

/** A notation program: an engine with nothing in it but the language, and three functions. */
async function scriptEngine(): Promise<AdapterInTest> {
  const engine = createContext(Object.create(null));
  script.runInContext(engine);
  const leftovers: string[] = [];

  async function arrangedOne({ bytes }: ExportedScore, options: object): Promise<Outcome> {
    const exported = Buffer.from(bytes).toString("utf8");
    const imported: string[] = [];
    const host = {
      exportScore: (done: (error: unknown, score?: string) => void) => done(undefined, exported),
      importScore: (score: string, done: () => void) => {
        imported.push(score);
        done();
      },
      request: (
        { url, ...request }: { url: string; method: string; headers: Record<string, string>; body: string },
        done: (error: unknown, answer?: { status: number; body: string }) => void,
      ) => {
        fetch(url, request)
          .then(async (answer) => ({ status: answer.status, body: await answer.text() }))
          .then(
            (answer) => done(undefined, answer),
            (error) => done(error),
          );
      },
    };
    const trip = await new Promise<Trip>((resolve) => {
      engine.undervoiceRoundTrip(host, { service: `http://127.0.0.1:${port}`, options }, resolve);
    });
    if (trip.isArranged !== (imported.length === 1)) leftovers.push(...imported);
    return {
      exported: new TextEncoder().encode(exported),
      guitarScore: imported[0] === undefined ? undefined : new TextEncoder().encode(imported[0]),
      // With an arranged score the note is about the arrangement, such as a wide reach.
      notes: trip.isArranged ? [] : [trip.note],
    };
  }

  return {
    roundTrip: (scores, options = {}) => Promise.all(scores.map((score) => arrangedOne(score, options))),
    leftovers: () => leftovers,
    close: async () => {},
  };
}

adapterContract("the script client", scriptEngine);
