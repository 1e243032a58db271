// Talks to the server of this page, and to nothing else.

/** What the server refused: a plain sentence, its status, and all else that it said. */
export class Fault extends Error {
  constructor(status, said) {
    super(said.error || 'shedbook does not answer. Is it still running in its window?');
    this.status = status;
    this.said = said;
  }
}

const kTries = 6;
const pause = (seconds) => new Promise((resolve) => setTimeout(resolve, 1000 * seconds));

async function ask(path, options, tries = kTries) {
  let answer;
  try {
    answer = await fetch(path, { credentials: 'same-origin', ...options });
  } catch (fault) {
    if (options?.signal?.aborted) throw fault;
    throw new Fault(0, {});
  }
  if (answer.status === 429 && tries > 1) {
    await pause(Number(answer.headers.get('Retry-After')) || 1);
    return ask(path, options, tries - 1);
  }
  const said = await answer.json().catch(() => ({}));
  if (!answer.ok) throw new Fault(answer.status, said);
  return said;
}

/** "?a=1&b=2" of what is neither empty nor null. */
export function query(values) {
  const out = new URLSearchParams();
  for (const [name, value] of Object.entries(values)) {
    if (value !== undefined && value !== null && value !== '') out.set(name, value);
  }
  const text = out.toString();
  return text ? `?${text}` : '';
}

export const get = (path, values = {}, signal = undefined) => ask(path + query(values), { signal });

export function send(method, path, body = {}, { revision, signal, keepalive } = {}) {
  const headers = { 'Content-Type': 'application/json' };
  if (revision) headers['If-Match'] = revision === '*' ? '*' : `"${revision}"`;
  return ask(path, { method, headers, body: JSON.stringify(body), signal, keepalive });
}

/** A file as it is. */
export async function sendFile(path, file) {
  return ask(path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/octet-stream' },
    body: await file.arrayBuffer(),
  });
}

/** Sound as bytes. */
export async function getBytes(url, signal) {
  const answer = await fetch(url, { credentials: 'same-origin', signal });
  if (!answer.ok) throw new Fault(answer.status, await answer.json().catch(() => ({})));
  return answer.arrayBuffer();
}
