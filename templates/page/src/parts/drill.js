// One drill or line of a sheet: number and name, boxes, its music with cursor, loop bars and hidden notes.
import { html, useEffect, useRef, useState } from '../html.js';
import { Box } from './controls.js';
import { useCursor } from './cursor.js';
import { staffFor, System, useDrawings, useMoments, useWidth } from './score.js';
import { ChordName, pretty, spoken } from './words.js';

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

export function DrillMusic({ piece, music, tag, larger, hide, loop, bars, onWhere }) {
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
  const last = bars ? bars[1] : drawn.systems.reduce((sum, system) => sum + system.measures.length, 0) - 1;
  const hidden = hide !== 'nothing' && !shownBar;
  return html`<div class=${`music${hidden ? ` hide-${hide === 'notes' ? 'notes' : 'rest'}${music?.pickup ? ' pickup' : ''}` : ''}`} ref=${place}>
    ${drawn.fault && html`<p class="quiet">${drawn.fault.message}</p>`}
    ${!drawn.systems.length && html`<div class="nomusic" aria-hidden="true"></div>`}
    ${drawn.systems.map((system, i) => {
      const over = system.harms.map(() => symbols[next++]).map((symbol) => symbol && html`<${ChordName} symbol=${symbol} />`);
      const first = offset;
      offset += system.measures.length;
      return html`<${System} key=${i} drawing=${system} label=${`${piece.name}, line ${i + 1}`} over=${over}>
        ${loop && html`<${LoopMarks} system=${system} offset=${first} first=${bars ? bars[0] : 0} last=${last} />`}
        ${i === 0 && html`<span class="cur" hidden aria-hidden="true"></span>`}
      <//>`;
    })}
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
