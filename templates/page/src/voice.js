// What a screen reader is told: quietly when there is a pause, or at once where something went wrong.
let polite = null;
let assertive = null;

export function setVoices(quiet, urgent) {
  polite = quiet;
  assertive = urgent;
}

const put = (region, text) => {
  if (!region) return;
  region.textContent = '';
  setTimeout(() => (region.textContent = text), 30);
};

export const tell = (text) => put(polite, text);
export const tellFault = (text) => put(assertive, text);
