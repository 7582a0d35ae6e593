// Calls to the page's own server.
async function checked(response) {
  if (!response.ok) throw new Error(await response.text());
  return response;
}

export async function postJSON(path, body, signal) {
  const headers = { "Content-Type": "application/json" };
  return checked(await fetch(path, { method: "POST", headers, body: JSON.stringify(body), signal }));
}

export async function postBytes(path, body) {
  return checked(await fetch(path, { method: "POST", body }));
}

// events reads a stream of server-sent events and calls each(kind, data).
export async function events(response, each) {
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let held = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    held += value;
    for (let end; (end = held.indexOf("\n\n")) >= 0; held = held.slice(end + 2)) {
      const kind = /^event: (.*)$/m.exec(held.slice(0, end))?.[1];
      const data = /^data: (.*)$/m.exec(held.slice(0, end))?.[1];
      if (kind && data) each(kind, JSON.parse(data));
    }
  }
}
