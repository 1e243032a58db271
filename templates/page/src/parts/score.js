// Music on the page: the engraver's systems at the width there is, chord symbols over them as words, and what stands beneath.
import { html, useEffect, useLayoutEffect, useMemo, useRef, useState } from '../html.js';
import { engrave } from '../engraver.js';
import { readDrawing } from './drawing.js';
import { ChordName } from './words.js';

/** The inner width of an element in whole pixels; 0 before it is known. */
export function useWidth(ref) {
  const [width, set] = useState(0);
  useLayoutEffect(() => {
    const look = () => set(Math.floor(ref.current?.clientWidth ?? 0));
    look();
    const observer = new ResizeObserver(look);
    observer.observe(ref.current);
    return () => observer.disconnect();
  }, []);
  return width;
}

/** How high a staff is that one plays from: on a desk, on a stand, in the hand. */
export function staffFor(width, larger = 1) {
  const staff = width >= 760 ? 40 : width >= 560 ? 36 : 27;
  return staff * larger;
}

/** The drawings of a score; those before stay while the next come. */
export function useDrawings(work) {
  const [drawn, set] = useState({ systems: [], times: null, fault: null, waits: true });
  const key = work ? JSON.stringify(work) : '';
  useEffect(() => {
    if (!work) return undefined;
    let over = false;
    set((now) => ({ ...now, waits: true }));
    engrave(work).then(
      (answer) => !over && set({ systems: answer.systems.map(readDrawing), times: answer.times, fault: null, waits: false }),
      (fault) => !over && set({ systems: [], times: null, fault, waits: false }),
    );
    return () => {
      over = true;
    };
  }, [key]);
  return drawn;
}

function Drawing({ drawing }) {
  const place = useRef(null);
  useLayoutEffect(() => {
    place.current.replaceChildren(drawing.node);
  }, [drawing]);
  return html`<div class="drawn" ref=${place}></div>`;
}

/** The columns of what stands under the chords: where each begins, to the next. */
export function columns(xs) {
  const out = [];
  xs.forEach((x, i) => out.push(i === 0 ? x : x - xs[i - 1]));
  out.push(100 - (xs.at(-1) ?? 0));
  return out.map((share) => `${share.toFixed(2)}%`).join(' ');
}

export const ChordAt = ({ x, y, children }) => html`<span class="at" style=${{ left: `${x}%`, top: `${y}%` }}>${children}</span>`;

/**
 * One system. `over`: chord symbols (vnodes) in order of the drawing's harmonies; `under`: what stands beneath, full width.
 */
export function System({ drawing, label, over = [], children, under }) {
  const y = Math.min(...drawing.harms.map((harm) => harm.y));
  return html`<div class="sys" role="group" aria-label=${label}>
    <div class="stave">
      <${Drawing} drawing=${drawing} />
      ${drawing.harms.map((harm, i) => over[i] && html`<${ChordAt} key=${i} x=${harm.x} y=${y}>${over[i]}<//>`)}
      ${children}
    </div>
    ${under}
  </div>`;
}

/** A score to read: nothing to press, nothing beneath. */
export function PlainScore({ work, symbols = [], label }) {
  const { systems, fault } = useDrawings(work);
  let chord = 0;
  if (fault) return html`<p class="quiet">${fault.message}</p>`;
  return systems.map((drawing, i) => {
    const over = drawing.harms.map(() => symbols[chord++]).map((symbol) => symbol && html`<${ChordName} symbol=${symbol} />`);
    return html`<${System} key=${i} drawing=${drawing} label=${label} over=${over} />`;
  });
}

/** Where each moment of the piece stands: [{ quarters, system, x, measure }] in order. */
export function useMoments(drawn) {
  return useMemo(() => {
    if (!drawn.times) return [];
    const out = [];
    let measure = -1;
    const indexOf = new Map(drawn.systems.flatMap((system) => system.measures).map((one, i) => [one.id, i]));
    for (const entry of drawn.times) {
      if (entry.measureOn) measure = indexOf.get(entry.measureOn) ?? measure + 1;
      for (const id of [...(entry.on ?? []), ...(entry.restsOn ?? [])]) {
        const system = drawn.systems.findIndex((one) => one.notes.has(id));
        if (system < 0) continue;
        out.push({ quarters: entry.qstamp, system, x: drawn.systems[system].notes.get(id), measure });
        break;
      }
    }
    return out;
  }, [drawn]);
}
