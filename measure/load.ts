import { execFileSync, spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import autocannon from "autocannon";
import { loadTune } from "./load-tune.js";

/**
 * What the service bears: clients that each send a tune of 32 bars over and over, as the program is
 * installed and with its own limits. On one machine, so the clients take their share of it too.
 *
 *     npm run load [-- --requests 10000 --clients 50]
 *
 * A request without an answer is an error, and so is any status but 200; 503 is counted apart.
 */
const { values } = parseArgs({
  options: {
    requests: { type: "string", default: "1000" },
    clients: { type: "string", default: "50" },
  },
});

const MAIN = fileURLToPath(new URL("../cli/main.js", import.meta.url));

const service = spawn(process.execPath, [MAIN, "serve", "--port", "0"], {
  stdio: ["ignore", "pipe", "inherit"],
});
try {
  const [line] = await once(service.stdout, "data");
  const address = /http:\S+(?=\/ )/.exec(String(line))?.[0];
  if (address === undefined) throw new Error(`the service does not say where it listens: ${line}`);
  // The first requests pay for compiling; every worker gets some.
  await load(address, Number(values.clients) * 2);
  const before = residentMib(service.pid);
  const result = await load(address, Number(values.requests));
  const after = residentMib(service.pid);
  const { latency } = result;
  const answered = result["2xx"];
  const busy = result.statusCodeStats?.["503"]?.count ?? 0;
  console.log(`clients             ${values.clients}`);
  console.log(`requests            ${values.requests} in ${result.duration} s`);
  console.log(`answered            ${answered}, ${(answered / result.duration).toFixed(1)} a second`);
  console.log(`refused as busy     ${busy}`);
  console.log(
    `errors              ${result.errors + result.non2xx - busy} (${result.timeouts} of them timeouts)`,
  );
  console.log(`p50, p99, longest   ${latency.p50} ms, ${latency.p99} ms, ${latency.max} ms`);
  console.log(`memory before       ${before} MiB`);
  console.log(`memory after        ${after} MiB`);
} finally {
  service.kill("SIGTERM");
}

function load(address: string, amount: number): Promise<autocannon.Result> {
  return autocannon({
    url: `${address}/arrangements`,
    method: "POST",
    headers: { "content-type": "application/vnd.recordare.musicxml+xml" },
    body: loadTune(),
    connections: Number(values.clients),
    amount,
    timeout: 60,
  });
}

/** Resident memory of the service; `ps` counts in kibibytes. */
function residentMib(pid: number | undefined): number {
  const kib = execFileSync("ps", ["-o", "rss=", "-p", String(pid)], { encoding: "utf8" });
  return Math.round(Number(kib) / 1024);
}
