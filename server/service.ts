import { createApp } from "./app.js";
import { SERVICE_LIMITS, type ServiceLimits } from "./limits.js";
import { type Listening, listen } from "./listen.js";
import type { PageFiles } from "./page-files.js";
import type { WaitingScore } from "./waiting-score.js";
import { openWorkshop } from "./workshop.js";

export interface ServiceSettings {
  readonly version: string;
  /** 0 takes any free port. */
  readonly port: number;
  readonly token: string | undefined;
  readonly limits?: ServiceLimits;
  /** The page; undefined where there is none. */
  readonly page?: PageFiles | undefined;
  /** A score that the page is to open by itself. */
  readonly waiting?: WaitingScore | undefined;
  /** Hears of errors that are mistakes of the service itself. */
  onMistake(error: unknown): void;
}

/**
 * Starts the whole service: workers, app and sockets.
 *
 * @throws the system's error where the port is taken or not permitted
 */
export async function startService(settings: ServiceSettings): Promise<Listening> {
  const { port, limits = SERVICE_LIMITS, ...rest } = settings;
  const workshop = openWorkshop(limits);
  try {
    const sockets = await listen(createApp({ ...rest, limits, workshop }), port, limits);
    return {
      port: sockets.port,
      close: async () => {
        await sockets.close();
        workshop.close();
      },
    };
  } catch (error) {
    workshop.close();
    throw error;
  }
}
