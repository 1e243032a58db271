// One drill or line of a sheet: number and name, boxes, its music with cursor, loop bars and hidden notes.
import { html, useEffect, useRef, useState } from '../html.js';
import { Box } from './controls.js';
import { useCursor } from './cursor.js';
import { staffFor, System, useDrawings, useMoments, useWidth } from './score.js';
import { ChordName, barNumber, barsOf, pretty, spoken } from './words.js';

/** The loop as a pencil pair of repeat bars over the bars from `first` to `last` (from 0). */
function LoopMarks({ system, offset, first, last }) {
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

// Which bar of these drawings, from 0, lies under the pointer; null between them.
function barUnder(event, place, systems) {
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
function useTaps(tag, loopBars) {
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

// What is looped, in words, and the way back.
function LoopLine({ first, bars, pickup, whole }) {
  const number = (bar) => barNumber(bar, pickup);
  return html`<p class="loopline" role="status">${first !== null ? `The loop begins or ends with bar ${number(first)}: tap its other end`
    : bars && html`Loop: ${barsOf(number(bars[0]), number(bars[1]))} <button class="b q" onClick=${whole}>All bars</button>`}</p>`;
}

/** loopBars: what takes the bars that are tapped; null where they are of no use */
export function DrillMusic({ piece, music, tag, larger, hide, loop, bars, loopBars = null, onWhere }) {
  const place = useRef(null);
  const width = useWidth(place);
  const [shownBar, setShownBar] = useState(false);
  const work = width && music ? { score: music.musicxml, form: 'musicxml', width, staff: staffFor(width, larger), times: true, meter: false, pickup: Boolean(music.pickup) } : null;
  const drawn = useDrawings(work);
  const moments = useMoments(drawn);
  useCursor({ place, tag, moments, systems: drawn.systems, onWhere });
  const symbols = music?.symbols ?? [];
  let next = 0;
  let offset = 0;
  const last = drawn.systems.reduce((sum, system) => sum + system.measures.length, 0) - 1;
  const taps = useTaps(tag, loopBars);
  const takesTaps = Boolean(loop && loopBars && piece.bars > 1);
  const tapped = (event) => {
    const bar = takesTaps ? barUnder(event, place.current, drawn.systems) : null;
    if (bar !== null && bar < piece.bars) taps.tap(bar);
  };
  const [from, to] = taps.first !== null ? [taps.first, taps.first] : (bars ?? [0, last]);
  const hidden = hide !== 'nothing' && !shownBar;
  return html`<div class=${`music${hidden ? ` hide-${hide === 'notes' ? 'notes' : 'rest'}${music?.pickup ? ' pickup' : ''}` : ''}${takesTaps ? ' taps' : ''}`} ref=${place} onClick=${tapped}>
    ${drawn.fault && html`<p class="quiet">${drawn.fault.message}</p>`}
    ${!drawn.systems.length && html`<div class="nomusic" aria-hidden="true"></div>`}
    ${drawn.systems.map((system, i) => {
      const over = system.harms.map(() => symbols[next++]).map((symbol) => symbol && html`<${ChordName} symbol=${symbol} />`);
      const first = offset;
      offset += system.measures.length;
      return html`<${System} key=${i} drawing=${system} label=${`${piece.name}, line ${i + 1}`} over=${over}>
        ${loop && html`<${LoopMarks} system=${system} offset=${first} first=${from} last=${to} />`}
        ${i === 0 && html`<span class="cur" hidden aria-hidden="true"></span>`}
      <//>`;
    })}
    ${takesTaps && (bars || taps.first !== null) && html`<${LoopLine} first=${taps.first} bars=${bars} pickup=${piece.pickup} whole=${() => loopBars(0, piece.bars - 1)} />`}
    ${hide !== 'nothing' && html`<button class="b" aria-pressed=${shownBar} onPointerDown=${() => setShownBar(true)} onPointerUp=${() => setShownBar(false)} onPointerLeave=${() => setShownBar(false)}
      onKeyDown=${(event) => event.key === 'Enter' && setShownBar(true)} onKeyUp=${() => setShownBar(false)} onBlur=${() => setShownBar(false)}>Show for a moment (hold)</button>`}
    ${music?.words?.length > 0 && html`<details class="vhd"><summary>Read the notes</summary><ol>${music.words.map((line) => html`<li>${line}</li>`)}</ol></details>`}
  </div>`;
}

/** Boxes as in the paper book. tick(tempo, memory, on) */
export function Boxes({ piece, standing, tick, disabled }) {
  const ticked = standing?.ticked ?? [];
  return html`<div class="boxes" role="group" aria-label=${`Ticks for ${piece.name}`}>
    ${(piece.boxes ?? []).map((tempo, i) => html`<${Box} key=${tempo} label=${`at ${tempo}`} disabled=${disabled} checked=${ticked.includes(tempo)} dim=${i > 0 && !ticked.includes(piece.boxes[i - 1]) && !ticked.includes(tempo)} onChange=${(on) => tick(tempo, false, on)} />`)}
    <${Box} label="from memory" disabled=${disabled} checked=${Boolean(standing?.memory)} onChange=${(on) => tick(null, true, on)} />
  </div>`;
}

export function Drill({ piece, music, now, standing, tick, choose, guest, children, ...rest }) {
  const place = useRef(null);
  const isFirst = useRef(true);
  useEffect(() => {
    // Not when the sheet is opened: that is read from its top.
    const opening = isFirst.current;
    isFirst.current = false;
    if (opening || !now || !place.current) return;
    const box = place.current.getBoundingClientRect();
    const foot = document.querySelector('.foot')?.getBoundingClientRect().top ?? innerHeight;
    if (box.top < 0 || box.bottom > foot) place.current.scrollIntoView({ block: 'nearest', behavior: 'instant' });
  }, [now]);
  return html`<article class=${`drill${now ? ' now' : ''}`} aria-current=${now ? 'true' : undefined} ref=${place} data-piece=${piece.piece}>
    <header>
      <h2>${now ? html`<span class="dn">${piece.piece}</span> ${pretty(piece.name)}` : html`<button class="choose" onClick=${choose}><span class="dn">${piece.piece}</span> ${pretty(piece.name)}</button>`}</h2>
      <${Boxes} piece=${piece} standing=${standing} tick=${tick} disabled=${guest} />
    </header>
    ${piece.remark && html`<p class="why">${pretty(piece.remark)}</p>`}
    <${DrillMusic} piece=${piece} music=${music} ...${rest} />
    ${children}
  </article>`;
}

export { spoken };
