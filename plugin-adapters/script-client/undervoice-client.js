/**
 * The round trip for a notation program with a script engine: export the score, have it arranged by the service
 * ("undervoice serve"), import what comes back. One file of plain ES2015 that needs nothing around it: no modules,
 * no timers, no network of its own. What it needs the program to do it is given as functions; each may answer
 * at once or later, and may throw.
 *
 * @typedef {{ status: number, body: string }} HttpAnswer
 *
 * @typedef {object} ScriptHost
 * @property {(done: (error: unknown, musicXml?: string) => void) => void} exportScore
 *   Answers with the open score as the text of a MusicXML file.
 * @property {(musicXml: string, done: (error?: unknown) => void) => void} importScore
 *   Opens a score. Called at most once, and only with a whole guitar score.
 * @property {(request: { method: "POST", url: string, headers: { [name: string]: string }, body: string },
 *   done: (error: unknown, answer?: HttpAnswer) => void) => void} request
 *   Makes one HTTP request, body and answer as UTF-8. A status such as 422 is an answer, not an error.
 *
 * @typedef {object} RoundTripWishes
 * @property {string} [service] Where the service listens; "http://127.0.0.1:8713" if nothing is said.
 * @property {string} [token] What the service was started with as its token.
 * @property {{ [name: string]: string | number | boolean }} [options] Options of the arrangement, by name.
 *
 * @typedef {object} RoundTrip
 * @property {boolean} isArranged Whether the guitar score was imported.
 * @property {string} note For the person: why not, or what there is to know about the arrangement; may be empty.
 */

/**
 * Makes the round trip once and says how it went, once.
 *
 * @param {ScriptHost} host
 * @param {RoundTripWishes} wishes
 * @param {(trip: RoundTrip) => void} done
 */
// biome-ignore lint/correctness/noUnusedVariables: programs call it
function undervoiceRoundTrip(host, wishes, done) {
  const service = (wishes.service || "http://127.0.0.1:8713").replace(/\/+$/, "");

  step(
    (next) => host.exportScore(next),
    (error, score) => {
      if (error) return failed(`The score could not be exported: ${textOf(error)}`);
      if (typeof score !== "string" || score === "")
        return failed("The score could not be exported: it is empty.");
      ask(score);
    }
  );

  function ask(score) {
    const headers = { "Content-Type": "application/octet-stream", Accept: "application/json" };
    if (wishes.token) headers.Authorization = `Bearer ${wishes.token}`;
    const url = `${service}/arrangements${queryOf(wishes.options || {})}`;
    step(
      (next) => host.request({ method: "POST", url, headers, body: score }, next),
      (error, answer) => {
        if (error || !answer)
          return failed(
            `Undervoice does not answer at ${service}. Is "undervoice serve" running? ${textOf(error)}`
          );
        const content = jsonIn(answer.body);
        if (answer.status !== 200)
          return failed(linesOf(content.findings) || `The service answered ${answer.status}.`);
        if (typeof content.score !== "string") return failed("The answer of the service was cut off.");
        const report = content.report || {};
        take(content.score, linesOf(report.findings));
      }
    );
  }

  function take(guitarScore, note) {
    step(
      (next) => host.importScore(guitarScore, next),
      (error) => {
        if (error) return failed(`The guitar score could not be imported: ${textOf(error)}`);
        done({ isArranged: true, note });
      }
    );
  }

  function failed(note) {
    done({ isArranged: false, note: note.trim() });
  }

  /** Calls a function of the program and goes on once, whether it answers, answers twice or throws. */
  function step(call, goOn) {
    let isAnswered = false;
    const next = (error, value) => {
      if (isAnswered) return;
      isAnswered = true;
      goOn(error, value);
    };
    try {
      call(next);
    } catch (error) {
      if (isAnswered) throw error;
      next(error || "no reason was given");
    }
  }

  function queryOf(options) {
    const pairs = Object.keys(options).map(
      (name) => `${encodeURIComponent(name)}=${encodeURIComponent(String(options[name]))}`
    );
    return pairs.length === 0 ? "" : `?${pairs.join("&")}`;
  }

  function jsonIn(text) {
    try {
      return JSON.parse(text) || {};
    } catch (_error) {
      return {};
    }
  }

  /** Findings as lines: where, how serious, what, and what to do. */
  function linesOf(findings) {
    if (!Array.isArray(findings)) return "";
    return findings
      .map((finding) => {
        const place = finding.place || {};
        const where = ["part", "line", "column", "measure", "beat"]
          .filter((field) => place[field] !== undefined)
          .map((field) => `${field} ${place[field]}`)
          .join(", ");
        const hint = finding.hint ? ` ${finding.hint}` : "";
        return `${where}${where && ": "}${finding.severity}: ${finding.message}${hint}`;
      })
      .join("\n");
  }

  function textOf(error) {
    if (!error) return "";
    return typeof error === "object" && "message" in error ? String(error.message) : String(error);
  }
}
