import { pictureFrom } from "../parts/picture.js";
import type { EngraverReply, EngravingOrder } from "./engraver-messages.js";

/** Systems as they are drawn, one after the other. */
export interface EngravingHeard {
  systems(count: number): void;
  system(index: number, picture: SVGSVGElement): void;
}

export interface Engraver {
  /** Draws a score; what is still being drawn is given up. Resolves to whether it was drawn to its end. */
  draw(order: Omit<EngravingOrder, "id">, heard: EngravingHeard): Promise<boolean>;
}

interface Drawing {
  readonly heard: EngravingHeard;
  resolve(isWhole: boolean): void;
  reject(error: Error): void;
}

export function startEngraver(): Engraver {
  const worker = new Worker("engraver-worker.js", { type: "module" });
  let count = 0;
  let current: Drawing | undefined;
  worker.addEventListener("message", ({ data }: MessageEvent<EngraverReply>) => {
    if (data.kind === "font") {
      const font = new FontFace(data.family, data.bytes);
      document.fonts.add(font);
      void font.load();
    }
    if (!("id" in data) || data.id !== count || current === undefined) return;
    if (data.kind === "systems") current.heard.systems(data.count);
    else if (data.kind === "system") current.heard.system(data.index, pictureFrom(data.svg));
    else if (data.kind === "failed") current.reject(new Error(data.why));
    else current.resolve(true);
  });
  return {
    draw(order, heard) {
      count += 1;
      current?.resolve(false);
      return new Promise((resolve, reject) => {
        current = { heard, resolve, reject };
        worker.postMessage({ ...order, id: count } satisfies EngravingOrder);
      });
    },
  };
}
