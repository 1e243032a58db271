// What a book will hold, before it is made: its sections with their drills, the first line of its music, what is left out.
import { html, useEffect, useRef, useState } from '../html.js';
import { tunePath } from '../address.js';
import { get } from '../net.js';
import { PlainScore, staffFor, useWidth } from './score.js';
import { nameOf, plural, pretty } from './words.js';

const kShown = 40;

function FirstMusic({ documentId, piece }) {
  const place = useRef(null);
  const width = useWidth(place);
  const [music, set] = useState(null);
  useEffect(() => {
    let over = false;
    get('/api/music', { document: documentId, piece: piece.piece }).then((answer) => !over && set(answer.pieces[piece.piece]), () => {});
    return () => {
      over = true;
    };
  }, [documentId, piece.piece]);
  return html`<div class="music" ref=${place}>${music && width > 0 && html`<${PlainScore} work=${{ score: music.musicxml, form: 'musicxml', width, staff: staffFor(Math.min(width, 559)), pickup: Boolean(music.pickup) }} symbols=${music.symbols ?? []} label=${piece.name} />`}</div>`;
}

/** picks: { tune, instrument, level, plan }. Nothing is asked before it is opened. */
export function Contents({ picks }) {
  const [open, setOpen] = useState(false);
  const [book, set] = useState(null);
  const [fault, setFault] = useState(null);
  const key = JSON.stringify(picks);
  useEffect(() => {
    if (!open) return undefined;
    let over = false;
    set(null);
    get('/api/practise', picks).then(
      (answer) => !over && (set(answer), setFault(null)),
      (problem) => !over && setFault(problem),
    );
    return () => {
      over = true;
    };
  }, [open, key]);
  const sections = book?.sections ?? [];
  const drills = sections.reduce((sum, section) => sum + section.pieces.length, 0);
  const first = sections[0]?.pieces[0];
  return html`<details class="help contents" onToggle=${(event) => setOpen(event.target.open)}><summary>What will be in it</summary>
    ${fault && html`<p class="wrong" role="alert">${fault.message} ${fault.status === 422 && html`<a href=${tunePath(picks.tune, 'write')}>To Write</a>`}</p>`}
    ${book && html`<p>${plural(sections.length, 'section')}, ${plural(drills, 'drill')}, for ${book.instrument.name} at level ${book.level}.</p>
      ${first && html`<p class="quiet">It begins with ${pretty(first.name)}:</p><${FirstMusic} documentId=${book.document} piece=${first} />`}
      <ol>${sections.slice(0, kShown).map((section) => html`<li value=${section.number}>${pretty(nameOf(section))} <span class="quiet">${plural(section.pieces.length, 'drill')}</span></li>`)}</ol>
      ${sections.length > kShown && html`<p class="quiet">and ${sections.length - kShown} more</p>`}
      ${book.says?.length > 0 && html`<p>Left out:</p><ul>${book.says.map((line) => html`<li>${pretty(line)}</li>`)}</ul>`}`}
  </details>`;
}
