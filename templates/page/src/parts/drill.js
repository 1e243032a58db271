// One drill or line of a sheet: number and name, boxes, its music with cursor, loop bars and hidden notes.
import { html, useEffect, useRef, useState } from '../html.js';
import { Box } from './controls.js';
import { useCursor } from './cursor.js';
import { LoopLine, LoopMarks, barUnder, useTaps } from './loop_bars.js';
import { System, staffFor, useDrawings, useMoments, useWidth } from './score.js';
import { ChordName, pretty, spoken } from './words.js';

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
