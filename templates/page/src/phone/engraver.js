// The engraver within this page: a file on a disk may start no thread of its own.
import { engraveOn, newToolkit } from '../engraving.js';

let toolkit = null;
let last = Promise.resolve();
const kept = new Map();

export function warmUp() {
  toolkit ??= newToolkit();
}

/** As engraver.js has it. */
export function engrave(work) {
  warmUp();
  const key = JSON.stringify(work);
  if (!kept.has(key)) {
    // One after the other, with a breath between, so that the page stays awake.
    last = last.then(() => new Promise((resolve) => setTimeout(resolve))).then(async () => engraveOn(await toolkit, work));
    kept.set(key, last);
    last = last.catch(() => {});
  }
  return kept.get(key);
}
