import {
  type AlternativeReport,
  type EventReport,
  type Finding,
  momentInWords,
  momentText,
  type NoteReport,
  type ShownParts,
  textOfFinding,
} from "undervoice";
import { arrival, type Brought, isWishes, waitingScore } from "./arrival.js";
import { bench, EFFORTS } from "./choose/bench.js";
import {
  NOTHING_WISHED,
  redone,
  undone,
  type WishHistory,
  wishesText,
  wishing,
} from "./choose/wish-history.js";
import { wishesRoom } from "./choose/wishes-room.js";
import type { Asked, Draft, Engraving, GivenOptions } from "./core/core-messages.js";
import { Refused, Stopped, startCoreThread } from "./core/core-thread.js";
import { button, byId, make } from "./parts/make.js";
import { startEngraver } from "./score/engraver.js";
import { scoreView } from "./score/score-view.js";
import { settingRoom } from "./setting/setting-room.js";
import { hearRoom } from "./sound/hear-room.js";
import { summaryInWords } from "./summary-words.js";
import { takeAway } from "./take-away.js";

/** What is open, and what is wished of it. */
interface Open {
  readonly file: Brought;
  readonly options: GivenOptions;
  readonly history: WishHistory;
}

export function startPage(): void {
  const core = startCoreThread();
  const engraver = startEngraver();
  let open: Open | undefined;
  let draft: Draft | undefined;
  let moment = 0;
  /** What there was to choose from at a moment before it was chosen: the way it was played first. */
  const before = new Map<string, readonly AlternativeReport[]>();
  /** Only what was asked last is shown. */
  let turn = 0;
  /** When a score was brought and something was chosen; `npm run page-times` reads what came of it. */
  let brought: number | undefined;
  let isNew = false;
  let chosen: number | undefined;

  const view = scoreView({
    chosen: (index) => choose(index, false),
    pointed: (index) => say(index === undefined ? undefined : wordsOf(index)),
  });
  const choice = bench({
    walkedTo: (index) => choose(index),
    wished: (now) => {
      remember();
      return wish((history) => wishing(history, now));
    },
    hear: (notes) => hear(notes),
    undo: () => wish(undone),
    redo: () => wish(redone),
  });
  byId("score").append(view.element);
  byId("arrival").append(arrival(bring, (why) => fail([mistake(why)])));
  byId("bench").append(choice.element);
  byId("bench").hidden = true;
  const rooms = takeAway({
    ask: (form) =>
      core.ask({ kind: "file", form, name: open?.file.name ?? "", ...asked() }).then(({ bytes }) => bytes),
    wishes: () => wishesText({ wishes: open?.history.now ?? [] }),
    name: () => (open?.file.name ?? "score").replace(/\.(musicxml|xml|mxl)$/i, ""),
    print: (shown) => print(shown),
    failed: (error) => fail(findingsOf(error)),
  });
  const hearing = hearRoom({
    measure: () => draft?.report.events[moment]?.measure ?? 1,
    heard: (index) => view.play(index),
  });
  const wishes = wishesRoom({
    change: (now) => wish((history) => wishing(history, now)),
    download: rooms.downloadWishes,
  });
  const setting = settingRoom((options) => again((before) => ({ ...before, options })));
  choice.head.prepend(hearing.play);
  const all = [hearing, setting, wishes, rooms];
  byId("rooms").append(...all.map(({ element }) => element));
  byId("doors").append(...all.flatMap(({ doors }) => doors), another());

  function hear(notes: readonly NoteReport[]) {
    const open = draft?.performance.openStrings ?? [];
    hearing.strike(notes.map(({ string, fret }) => (open[string - 1] ?? 0) + fret));
  }

  async function bring(file: Brought): Promise<void> {
    if (isWishes(file)) return bringWishes(file);
    const mine = ++turn;
    const options = forAnother(open?.options ?? {});
    closeScore();
    progress("Reading");
    brought = performance.now();
    isNew = true;
    try {
      const lead = await core.ask({ kind: "open", bytes: file.bytes });
      if (mine !== turn) return;
      open = { file, options, history: NOTHING_WISHED };
      document.body.classList.add("is-open");
      byId("title").textContent = file.name;
      byId("doors").hidden = false;
      setting.show(options, file.bytes);
      const engraved = engrave(lead);
      progress("Arranging", () => stop());
      await arrange(mine);
      await engraved;
    } catch (error) {
      if (mine === turn) fail(findingsOf(error));
    }
  }

  /** Nothing of the score before is left on the page, whatever becomes of the next. */
  function closeScore() {
    hearing.stop();
    open = undefined;
    draft = undefined;
    moment = 0;
    before.clear();
    view.showDraft(undefined);
    view.begin({ notes: [] });
    view.end();
    byId("summary").textContent = "";
    for (const id of ["bench", "said", "doors"]) byId(id).hidden = true;
    for (const room of all) room.element.hidden = true;
    for (const opens of document.querySelectorAll(".door")) opens.setAttribute("aria-expanded", "false");
  }

  async function bringWishes(file: Brought): Promise<void> {
    if (open === undefined) return fail([mistake("Open a score first; the wishes are for its moments.")]);
    try {
      const { wishes } = await core.ask({ kind: "wishes", text: new TextDecoder().decode(file.bytes) });
      await wish((history) => wishing(history, wishes));
    } catch (error) {
      fail(findingsOf(error));
    }
  }

  async function arrange(mine: number): Promise<void> {
    if (open === undefined) return;
    const { history } = open;
    const made = await core.ask({ kind: "arrange", ...asked() });
    if (mine !== turn) return;
    draft = made;
    view.showDraft(made);
    moment = Math.min(moment, made.report.events.length - 1);
    showDraft(made, history);
    measured(history === NOTHING_WISHED && brought !== undefined ? "brought to path" : "chosen to path");
    const engraving = await core.ask({ kind: "engraving", shown: "both", ...asked() });
    if (mine !== turn) return;
    await engrave(engraving);
    progress(undefined);
  }

  const asked = (): Asked => ({
    options: open?.options ?? {},
    wishes: { wishes: open?.history.now ?? [] },
  });

  function measured(what: "brought to engraving" | "brought to path" | "chosen to path") {
    const start = what === "chosen to path" ? chosen : brought;
    if (start !== undefined) performance.measure(what, { start });
  }

  function showDraft(made: Draft, history: WishHistory) {
    byId("title").textContent = made.report.title ?? open?.file.name ?? "Untitled";
    byId("summary").textContent = summaryInWords(made);
    showFindings(made.report.findings);
    byId("bench").hidden = made.report.events.length === 0;
    hearing.show(made);
    if (open !== undefined) setting.show(open.options, open.file.bytes);
    choice.show(made, moment, history, othersBefore(made));
    wishes.show(history.now);
    view.choose(moment, false);
  }

  const placeOf = ({ measure, beat }: EventReport) => `${measure} ${beat}`;

  function othersBefore({ report }: Draft): readonly AlternativeReport[] | undefined {
    const event = report.events[moment];
    const grip = JSON.stringify(event?.notes.map(({ string, fret }) => [string, fret]));
    return (
      event &&
      before
        .get(placeOf(event))
        ?.filter(({ notes }) => JSON.stringify(notes.map(({ string, fret }) => [string, fret])) !== grip)
    );
  }

  function remember() {
    const event = draft?.report.events[moment];
    if (event === undefined || event.alternatives.length === 0) return;
    const { attack, degrees, notes, shape } = event;
    const way = { attack, degrees, notes, extraCost: 0, ...(shape === undefined ? {} : { shape }) };
    before.set(placeOf(event), [way, ...event.alternatives]);
  }

  function choose(index: number, isFollowed = true) {
    if (draft === undefined || open === undefined) return;
    moment = index;
    choice.show(draft, moment, open.history, othersBefore(draft));
    view.choose(moment, isFollowed);
  }

  const wish = (change: (history: WishHistory) => WishHistory | undefined): Promise<void> =>
    again((before) => {
      const history = change(before.history);
      return history && { ...before, history };
    });

  /** Arranges anew with other wishes or options; what cannot be granted leaves everything as it was. */
  async function again(change: (before: Open) => Open | undefined): Promise<void> {
    if (open === undefined) return;
    const asBefore = open;
    const changed = change(asBefore);
    if (changed === undefined) return;
    const mine = ++turn;
    open = changed;
    chosen = performance.now();
    progress("Arranging around it", () => stop());
    try {
      await arrange(mine);
    } catch (error) {
      if (error instanceof Stopped) open = asBefore;
      if (mine !== turn) return;
      open = asBefore;
      setting.show(asBefore.options, asBefore.file.bytes);
      fail(findingsOf(error));
    }
  }

  /** The parts that are asked for, engraved for paper; then the page is as it was. */
  async function print(shown: ShownParts): Promise<void> {
    if (draft === undefined) return;
    await engrave(await core.ask({ kind: "engraving", shown, ...asked() }), PAPER);
    window.print();
    await engrave(await core.ask({ kind: "engraving", shown: "both", ...asked() }));
  }

  async function engrave(engraving: Engraving, size = sizeOf(byId("score").clientWidth)): Promise<void> {
    view.begin(engraving);
    const isWhole = await engraver.draw(
      { xml: engraving.xml, ...size },
      {
        systems: () => undefined,
        system(_index, picture) {
          view.addSystem(picture);
          if (isNew) measured("brought to engraving");
          isNew = false;
        },
      },
    );
    if (isWhole) view.end();
  }

  function another(): HTMLElement {
    return button(
      "Another score",
      () => {
        document.body.classList.remove("is-open");
        byId("arrival").scrollIntoView();
        byId("file").focus();
      },
      { class: "quiet" },
    );
  }

  function stop() {
    turn += 1;
    core.stop();
    progress(
      draft === undefined
        ? "Stopped. What is engraved is the lead sheet."
        : "Stopped. All is as it was before.",
    );
    if (open !== undefined) void core.ask({ kind: "open", bytes: open.file.bytes }).catch(() => undefined);
  }

  function progress(text: string | undefined, onStop?: () => void) {
    byId("progress").replaceChildren(
      ...(text === undefined ? [] : [text]),
      ...(onStop === undefined ? [] : [" ", button("Stop", onStop, { class: "quiet" })]),
    );
  }

  function fail(findings: readonly Finding[]) {
    progress(undefined);
    showFindings(findings);
    const [first] = findings;
    if (first !== undefined) view.pointAt(first);
  }

  function showFindings(findings: readonly Finding[]) {
    const said = byId("said") as HTMLDetailsElement;
    said.hidden = findings.length === 0;
    said.open = findings.some(({ severity }) => severity === "error");
    byId("said-count").textContent = countInWords(findings);
    byId("findings").replaceChildren(
      ...findings.map((finding) => {
        const text = textOfFinding(finding);
        const { measure } = finding.place;
        return make(
          "li",
          { class: finding.severity, role: finding.severity === "error" ? "alert" : undefined },
          measure === undefined ? text : button(text, () => view.pointAt(finding), { class: "finding" }),
        );
      }),
    );
  }

  function say(words: string | undefined) {
    byId("saying").hidden = words === undefined;
    byId("saying").textContent = words ?? "";
  }

  function wordsOf(index: number): string | undefined {
    const event = draft?.report.events[index];
    if (draft === undefined || event === undefined) return undefined;
    const move = draft.trace.moves.find(({ from, to }) => from === index && to === index + 1);
    const then =
      move === undefined
        ? ""
        : `; then ${move.effort === "still" ? "the hand stays" : `${EFFORTS[move.effort]}, ${Math.round(move.moveMm)} mm`}`;
    return `${momentText(event)}: ${momentInWords(event)}${then}`;
  }

  void waitingScore().then(
    (file) => (file === undefined ? undefined : bring(file)),
    () => undefined,
  );

  const redraw = debounced(() => {
    if (draft !== undefined)
      void core.ask({ kind: "engraving", shown: "both", ...asked() }).then(engrave, () => undefined);
  });
  let width = window.innerWidth;
  window.addEventListener("resize", () => {
    if (window.innerWidth !== width) redraw();
    width = window.innerWidth;
  });
  window.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
    // A field has a history of its own.
    if (event.target instanceof HTMLInputElement) return;
    event.preventDefault();
    void wish(event.shiftKey ? redone : undone);
  });
}

const findingsOf = (error: unknown): readonly Finding[] => {
  if (error instanceof Refused) return error.findings;
  if (error instanceof Stopped) return [];
  return [mistake(error instanceof Error ? error.message : String(error))];
};

const mistake = (message: string): Finding => ({
  rule: "page",
  severity: "error",
  place: {},
  found: message,
  expected: "a score",
  message,
});

/** What was asked about one tune, not about the instrument or the hand. */
const OF_ONE_TUNE = ["key", "melody", "tune", "chords", "tempo"];

const forAnother = (options: GivenOptions): GivenOptions =>
  Object.fromEntries(Object.entries(options).filter(([name]) => !OF_ONE_TUNE.includes(name)));

/** A staff seven millimetres high on A4. */
const PAPER = { widthPx: 760, scale: 34 };
const NARROW_PX = 600;
const LEAST_PX = 320;

/** Of the engraving: smaller staves where there is little room. */
const sizeOf = (width: number) => ({
  widthPx: Math.max(width, LEAST_PX),
  scale: width < NARROW_PX ? 30 : 40,
});

/** "2 warnings, 1 note". */
function countInWords(findings: readonly Finding[]): string {
  const counts = (["error", "warning", "note"] as const).map((severity) => {
    const count = findings.filter((finding) => finding.severity === severity).length;
    return count === 0 ? "" : `${count} ${severity}${count === 1 ? "" : "s"}`;
  });
  return counts.filter((count) => count !== "").join(", ");
}

const WAIT_MS = 200;

function debounced(work: () => void): () => void {
  let waiting: number | undefined;
  return () => {
    clearTimeout(waiting);
    waiting = setTimeout(work, WAIT_MS);
  };
}
