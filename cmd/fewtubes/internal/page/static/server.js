// Calls to the page's own server.
const gone = "The program behind this page has stopped. Start it again, and put what stands behind the # of this page's address behind its new address: the scene is in it.";

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
