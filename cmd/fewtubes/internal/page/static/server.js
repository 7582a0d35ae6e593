// Calls to the page's own server.
const gone = "The program behind this page has stopped. Start fewtubes again; what you typed stays, and the page goes on by itself.";

async function call(path, options) {
  let response;
  try {
    response = await fetch(path, options);
  } catch (err) {
    throw options.signal?.aborted ? err : new Error(gone);
  }
  if (!response.ok) throw new Error(await response.text());
  return response;
}

export async function getJSON(path) {
  return (await call(path, {})).json();
}

export async function postJSON(path, body, signal) {
  const headers = { "Content-Type": "application/json" };
  return call(path, { method: "POST", headers, body: JSON.stringify(body), signal });
}

export async function postBytes(path, body) {
  return call(path, { method: "POST", body });
}

// inLine puts the place of a question that waits in words.
export function inLine(before) {
  return `waiting for a turn: number ${before + 1} in line`;
}

// work asks for what the server works out when its turn comes. Where it has to
// wait, told is called with its place in words, and with "" once the turn has come.
export async function work(path, options, told) {
  const headers = { ...options.headers, Accept: "text/event-stream, application/json;q=0.9, */*;q=0.8" };
  const response = await call(path, { ...options, headers });
  const type = response.headers.get("Content-Type") ?? "";
  if (type.startsWith("application/json")) return response.json();
  if (!type.startsWith("text/event-stream")) return response.blob();
  let result;
  let trouble = gone;
  await events(response, (kind, data) => {
    if (kind === "queue") told(inLine(data.before));
    else if (kind === "turn") told("");
    else if (kind === "result") result = data;
    else if (kind === "progress") told(`${data.done} of ${data.all}`);
    else trouble = data;
  });
  if (result === undefined) { told(""); throw new Error(trouble); }
  return result.kind ? new Blob([bytes(result.data)], { type: result.kind }) : result;
}

export const bytes = (base64) => Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));

export async function workJSON(path, body, told, signal) {
  const headers = { "Content-Type": "application/json" };
  return work(path, { method: "POST", headers, body: JSON.stringify(body), signal }, told);
}

// events reads a stream of server-sent events and calls each(kind, data).
export async function events(response, each) {
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let held = "";
  for (;;) {
    const { done, value } = await reader.read().catch((err) => { throw err.name === "AbortError" ? err : new Error(gone); });
    if (done) return;
    held += value;
    for (let end; (end = held.indexOf("\n\n")) >= 0; held = held.slice(end + 2)) {
      const kind = /^event: (.*)$/m.exec(held.slice(0, end))?.[1];
      const data = /^data: (.*)$/m.exec(held.slice(0, end))?.[1];
      if (kind && data) each(kind, JSON.parse(data));
    }
  }
}
