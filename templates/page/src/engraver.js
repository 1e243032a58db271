// Asks the engraver's thread for drawings; answers are kept, so that turning back costs nothing.
const kKept = 200;

let worker = null;
let next = 1;
const waiting = new Map();
const kept = new Map();

function start() {
  worker = new Worker(new URL('engraver.js', import.meta.url), { type: 'module' });
  worker.onmessage = ({ data }) => {
    const asked = waiting.get(data.id);
    if (!asked) return;
    waiting.delete(data.id);
    if (data.fault) asked.reject(new Error(data.fault));
    else asked.resolve(data);
  };
  worker.onerror = () => {
    for (const asked of waiting.values()) asked.reject(new Error('the engraver did not start'));
    waiting.clear();
  };
}

/** Starts loading, before anything is asked. */
export function warmUp() {
  if (!worker) start();
}

/**
 * One drawing (SVG text) a system.
 * @param {{score: string, form: 'musicxml'|'mei', staff: number, width: number, perSystem?: number, sections?: number[],
 *   pickup?: boolean, times?: boolean, names?: boolean, meter?: boolean}} work staff (its height) and width are in CSS pixels; perSystem: bars a line, new lines at
 *   sections (bars from 0); without it as many as fit
 * @returns {Promise<{systems: string[], times: ?object[]}>} times: Verovio's time map
 */
export function engrave(work) {
  warmUp();
  const key = JSON.stringify(work);
  if (kept.has(key)) return kept.get(key);
  const id = next++;
  const answer = new Promise((resolve, reject) => waiting.set(id, { resolve, reject }));
  worker.postMessage({ id, work });
  kept.set(key, answer);
  answer.catch(() => kept.delete(key));
  if (kept.size > kKept) kept.delete(kept.keys().next().value);
  return answer;
}
