// The engraver in a thread of its own.
import { engraveOn, newToolkit } from './engraving.js';

const ready = newToolkit();
let last = Promise.resolve();
self.onmessage = ({ data }) => {
  last = last.then(async () => {
    try {
      self.postMessage({ id: data.id, ...engraveOn(await ready, data.work) });
    } catch (fault) {
      self.postMessage({ id: data.id, fault: String(fault?.message ?? fault) });
    }
  });
};
