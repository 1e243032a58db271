// The bars of a loop in the music: a pencil pair of repeat bars, picked by tapping the first and the last of them.
import { html, useEffect, useRef, useState } from '../html.js';
import { barNumber, barsOf } from './words.js';

/** Over one system whose first bar is `offset`: the loop as a pencil pair of repeat bars over the bars from `first` to `last` (from 0). */
export function LoopMarks({ system, offset, first, last }) {
  const out = [];
  const { measures, staffTop, staffBottom } = system;
  const style = (x, before = 0) => ({ left: before ? `calc(${x}% - ${before}px)` : `${x}%`, top: `${staffTop}%`, height: `${staffBottom - staffTop}%` });
  const at = (bar) => measures[bar - offset];
  const begin = at(first);
  if (begin) out.push(html`<span class="rep begins" style=${first === offset ? style(Math.min(begin.begins ?? 100, begin.beats[0] ?? begin.left), 19) : style(begin.left)} aria-hidden="true"></span>`);
  const end = at(last);
  if (end) out.push(html`<span class="rep ends" style=${style(end.right)} aria-hidden="true"></span>`);
  return out;
}

/** Which bar of these drawings, from 0, lies under the pointer; null between them. */
export function barUnder(event, place, systems) {
  const stave = event.target.closest('.stave');
  const index = [...place.querySelectorAll('.stave')].indexOf(stave);
  if (index < 0 || !systems[index]) return null;
  const box = stave.getBoundingClientRect();
  const x = (100 * (event.clientX - box.left)) / box.width;
  const bar = systems[index].measures.findIndex((measure) => x <= measure.right + 0.5);
  const before = systems.slice(0, index).reduce((sum, system) => sum + system.measures.length, 0);
  return bar < 0 ? null : before + bar;
}

const kFirstWaits = 8000; // milliseconds in which a first bar that was tapped waits for the last

/** { first, tap }: bars of a loop picked in the music, the first and then the last of them (or the other way round). */
export function useTaps(tag, loopBars) {
  const [first, setFirst] = useState(null);
  const timer = useRef(null);
  useEffect(() => {
    setFirst(null);
    return () => clearTimeout(timer.current);
  }, [tag]);
  const tap = (bar) => {
    clearTimeout(timer.current);
    if (first !== null) loopBars(first, bar);
    else timer.current = setTimeout(() => setFirst(null), kFirstWaits);
    setFirst(first === null ? bar : null);
  };
  return { first, tap };
}

/** What is looped, in words, and the way back. */
export function LoopLine({ first, bars, pickup, whole }) {
  const number = (bar) => barNumber(bar, pickup);
  return html`<p class="loopline" role="status">${first !== null ? `The loop begins or ends with bar ${number(first)}: tap its other end`
    : bars && html`Loop: ${barsOf(number(bars[0]), number(bars[1]))} <button class="b q" onClick=${whole}>All bars</button>`}</p>`;
}
