// Runs Python, so that the page never freezes. Text comes in, text goes out; each message carries its question's id.

let respond;

self.onmessage = async ({ data }) => {
  if (data.kind === "boot") return boot(data.engine);
  const { id, calculator, entries } = data;
  try {
    const text = respond(calculator, JSON.stringify(entries));
    self.postMessage({ id, ...JSON.parse(text) });
  } catch (error) {
    self.postMessage({ id, kind: "fault", sentence: lastLine(error) });
  }
};

async function boot(engine) {
  try {
    const snapshot = fetch(`${engine}snapshot.bin.gz`).then((response) => {
      if (!response.ok) throw new Error(`${response.status} for ${response.url}`);
      return new Response(response.body.pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
    });
    const { startFromSnapshot } = await import(`${engine}start.mjs`);
    respond = await startFromSnapshot(snapshot);
    self.postMessage({ kind: "ready" });
  } catch (error) {
    self.postMessage({ kind: "failed", sentence: lastLine(error) });
  }
}

// A Python error is a whole traceback: its last line says what happened.
function lastLine(error) {
  return String(error.message ?? error).trim().split("\n").at(-1);
}
