import type { EngravedNote, Finding } from "undervoice";
import type { Draft, Engraving } from "../core/core-messages.js";
import { draw, make } from "../parts/make.js";
import { type PlacedMoment, pathStrip, STRIP_HEIGHT } from "./path-strip.js";
import { mapSystem, marginOf, type SystemMap, xOfMoment } from "./system-map.js";

/** Score and path of the hand, system under system. */
export interface ScoreView {
  readonly element: HTMLElement;
  /** Takes the systems of a new picture as they come. */
  begin(engraving: Pick<Engraving, "notes">): void;
  addSystem(picture: SVGSVGElement): void;
  /** What is drawn after the last system that came is of an older picture and goes. */
  end(): void;
  /** Draws the path of an arrangement under what is engraved; undefined takes it away. */
  showDraft(draft: Draft | undefined): void;
  choose(moment: number | undefined, isFollowed?: boolean): void;
  play(moment: number | undefined): void;
  pointAt(finding: Finding): void;
}

interface Heard {
  chosen(moment: number): void;
  pointed(moment: number | undefined): void;
}

interface System {
  readonly figure: HTMLElement;
  readonly map: SystemMap;
  strip: SVGSVGElement | undefined;
  moments: readonly PlacedMoment[];
}

/** How far above a grip the strip still shows the neck, mm. */
const ROOM_ABOVE_MM = 12;
/** Units of the engraver's picture. */
const FINGER_BESIDE = 60;
const FINGER_DOWN = 62;

export function scoreView(heard: Heard): ScoreView {
  const element = make("div", { class: "systems" });
  let notes: ReadonlyMap<string, EngravedNote> = new Map();
  let systems: System[] = [];
  let fresh: System[] = [];
  let draft: Draft | undefined;
  let chosen: number | undefined;
  let playing: number | undefined;

  function begin(engraving: Pick<Engraving, "notes">) {
    notes = new Map(engraving.notes.map((note) => [note.id, note]));
    fresh = [];
  }

  function addSystem(picture: SVGSVGElement) {
    const before = fresh.reduce((count, { map }) => count + map.measures.length, 0);
    const map = mapSystem(picture, notes, before);
    picture.setAttribute("role", "img");
    picture.setAttribute("aria-label", labelOf(map));
    picture.classList.add("engraving");
    const figure = make("figure", { class: "system" }, picture);
    listen(
      figure,
      () => fresh.find((one) => one.figure === figure) ?? systems.find((one) => one.figure === figure),
    );
    drawFingers(map);
    const system: System = { figure, map, strip: undefined, moments: [] };
    const old = element.children[fresh.length];
    fresh.push(system);
    if (old === undefined) element.append(figure);
    else old.replaceWith(figure);
    systems = fresh;
    drawStrip(system);
    mark(system);
  }

  function end() {
    while (element.children.length > fresh.length) element.lastElementChild?.remove();
  }

  function listen(figure: HTMLElement, systemOf: () => System | undefined) {
    const momentAt = (event: MouseEvent): number | undefined => {
      const system = systemOf();
      if (system === undefined) return undefined;
      const box = figure.getBoundingClientRect();
      const x = ((event.clientX - box.left) / box.width) * system.map.width - marginOf(system.map)[0];
      const [nearest] = system.moments.toSorted((one, other) => Math.abs(one.x - x) - Math.abs(other.x - x));
      return nearest?.index;
    };
    figure.addEventListener("click", (event) => {
      const moment = momentAt(event);
      if (moment !== undefined) heard.chosen(moment);
    });
    figure.addEventListener("pointermove", (event) => heard.pointed(momentAt(event)));
    figure.addEventListener("pointerleave", () => heard.pointed(undefined));
  }

  function drawStrip(system: System) {
    system.strip?.remove();
    system.strip = undefined;
    system.moments = [];
    const { map } = system;
    const [first, last] = [map.measures[0], map.measures.at(-1)];
    if (draft === undefined || first === undefined || last === undefined) return;
    const { report, trace } = draft;
    system.moments = report.events.flatMap(({ measure }, index) => {
      if (measure < first.measure || measure > last.measure) return [];
      const { start = 0, length = 4 } = trace.measures[measure - 1] ?? {};
      return [{ index, x: xOfMoment(map, measure, (trace.moments[index]?.at ?? start) - start, length) }];
    });
    const [margin] = marginOf(map);
    system.strip = pathStrip({
      width: map.width,
      left: first.from + margin,
      right: last.to + margin,
      barlines: map.measures.map(({ to }) => to + margin),
      moments: system.moments.map(({ index, x }) => ({ index, x: x + margin })),
      trace,
      events: report.events,
      upToMm: highestMm(draft) + ROOM_ABOVE_MM,
    });
    system.figure.append(system.strip);
  }

  function mark(system: System) {
    for (const old of system.figure.querySelectorAll(".cursor")) old.remove();
    const [margin] = marginOf(system.map);
    for (const [moment, name] of [
      [chosen, "cursor chosen"],
      [playing, "cursor playing"],
    ] as const) {
      const place = system.moments.find(({ index }) => index === moment);
      if (place === undefined) continue;
      const band = (x: number, height: number) =>
        draw("rect", { class: name, x: x - 190, y: 0, width: 380, height, rx: 120 });
      system.map.paper.prepend(band(place.x, system.map.height));
      system.strip?.prepend(band(place.x + margin, STRIP_HEIGHT));
    }
  }

  const markAll = () => systems.forEach(mark);

  function follow(moment: number | undefined) {
    const system = systems.find((one) => one.moments.some(({ index }) => index === moment));
    system?.figure.scrollIntoView({ block: "nearest", behavior: calm() ? "auto" : "smooth" });
  }

  return {
    element,
    begin,
    addSystem,
    end,
    showDraft(given) {
      draft = given;
      systems.forEach(drawStrip);
      markAll();
    },
    choose(moment, isFollowed = true) {
      chosen = moment;
      markAll();
      if (isFollowed) follow(moment);
    },
    play(moment) {
      playing = moment;
      markAll();
      follow(moment);
    },
    pointAt({ place }) {
      const system = systems.find(({ map }) => map.measures.some(({ measure }) => measure === place.measure));
      const bar = system?.map.measures.find(({ measure }) => measure === place.measure);
      if (system === undefined || bar === undefined) return;
      for (const old of element.querySelectorAll(".pointed")) old.remove();
      const { paper, height } = system.map;
      paper.prepend(
        draw("rect", { class: "pointed", x: bar.from, y: 0, width: bar.to - bar.from, height, rx: 90 }),
      );
      system.figure.scrollIntoView({ block: "center", behavior: calm() ? "auto" : "smooth" });
    },
  };
}

const calm = (): boolean => matchMedia("(prefers-reduced-motion: reduce)").matches;

function labelOf({ measures }: SystemMap): string {
  const [first, last] = [measures[0]?.measure ?? 1, measures.at(-1)?.measure ?? 1];
  return first === last ? `Measure ${first}` : `Measures ${first} to ${last}`;
}

const highestMm = ({ trace }: Draft): number =>
  Math.max(trace.neck.fretsMm[4] ?? 0, ...trace.moments.map(({ spanMm, handMm }) => spanMm?.[1] ?? handMm));

/** Fingers to the left of their heads; heads that stand close above one another set theirs side by side. */
function drawFingers({ heads, paper }: SystemMap) {
  const taken: { x: number; y: number }[] = [];
  for (const { note, x, y, left } of heads) {
    if (note.finger === undefined || note.staff !== "guitar") continue;
    let at = Math.min(x, left) - FINGER_BESIDE;
    while (taken.some((other) => Math.abs(other.x - at) < 100 && Math.abs(other.y - y) < 150)) at -= 125;
    taken.push({ x: at, y });
    paper.append(
      draw(
        "text",
        { class: "finger", x: at, y: y + FINGER_DOWN, "aria-hidden": "true" },
        String(note.finger),
      ),
    );
  }
}
