// One student's drills as a single file: it opens from a disk, without a network and without shedbook.
import { html, render, useEffect, useMemo, useState } from '../html.js';
import { listen } from '../keys.js';
import { setVoices } from '../voice.js';
import { isAtTempo, useOptions, usePractice, useStand } from '../practice.js';
import { Defs } from '../parts/defs.js';
import { Drill } from '../parts/drill.js';
import { PracticeFoot } from '../parts/practice_foot.js';
import { plural, pretty } from '../parts/words.js';
import { recall, remember } from '../device.js';
import { book, pieces } from './book.js';
import { allTicks, isStored, noteSaved, standingOf, ticksFile, unsaved, watchTicks } from './net.js';
import { warmUp } from './engraver.js';

const all = [...pieces.keys()];

function save() {
  const link = document.createElement('a');
  const url = URL.createObjectURL(ticksFile());
  link.href = url;
  link.download = `ticks-${(book.student || book.title || 'book').toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-')}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 5000);
  noteSaved();
}

function Kept() {
  const count = allTicks().length;
  if (!count) return html`<p class="quiet">What you tick stays in this browser.</p>`;
  const waits = unsaved();
  return html`<div class="line"><span>${isStored() ? 'Ticks stay in this browser.' : 'Ticks last until you close this page: save them first.'} ${waits ? `${plural(waits, 'tick')} not saved yet.` : 'All are saved.'}</span>
    <button class="b" onClick=${save}>Save my ticks</button></div>`;
}

function Section({ section, open, toggle, children }) {
  return html`<section class="punit"><h2><button class="choose" aria-expanded=${open} onClick=${toggle}><span class="dn">${section.number}</span> ${pretty(section.name)}</button></h2>
    <p class="quiet">${(section.places ?? []).map((place) => `bars ${place.first_bar}–${place.last_bar}`).join(', ')}${section.grade ? `, ${section.grade}` : ''}</p>
    ${open && html`${section.why && html`<p class="why">${pretty(section.why)}</p>`}${children}`}
  </section>`;
}

function Phone() {
  const [options, change] = useOptions();
  const [where, setWhere] = useState('');
  const [turn, setTurn] = useState(0);
  const standings = useMemo(() => Object.fromEntries(all.map((name) => [name, standingOf(name)])), [turn]);
  const [now, setNow] = useState(() => (pieces.has(recall(`now.${book.code}`)) ? recall(`now.${book.code}`) : (all.find((name) => !isAtTempo(pieces.get(name), standings[name])) ?? all[0])));
  const sectionOf = (name) => book.sections.find((section) => section.pieces.some((piece) => piece.piece === name));
  const [open, setOpen] = useState(() => new Set([sectionOf(now)?.number]));
  const piece = pieces.get(now);
  const index = all.indexOf(now);
  const goTo = (name) => {
    if (!name) return;
    remember(`now.${book.code}`, name);
    setNow(name);
    setOpen((was) => new Set([...was, sectionOf(name).number]));
  };
  watchTicks(() => setTurn((n) => n + 1));
  const practice = usePractice({
    document: book.code ?? book.title,
    piece,
    standing: standings[now],
    options,
    change,
    guest: false,
    onStanding: () => setTurn((n) => n + 1),
    next: all[index + 1] && (() => goTo(all[index + 1])),
    before: all[index - 1] && (() => goTo(all[index - 1])),
  });
  useStand(practice.phase === 'sounding', '.drill.now');
  useEffect(() => {
    document.title = `${book.title} · ${book.student ?? ''}`;
  }, []);
  const toggle = (number) => setOpen((was) => {
    const next = new Set(was);
    if (!next.delete(number)) next.add(number);
    return next;
  });
  return html`<${Defs} />
    <main id="sheet" class="desk p-phone"><section class="sheet" aria-label=${book.title}>
      <div class="title"><h1>${book.title}</h1><p class="it">${[book.student, book.instrument?.name, book.level && `level ${book.level}`].filter(Boolean).join(', ')}</p></div>
      <${Kept} />
      ${book.sections.map((section) => html`<${Section} key=${section.number} section=${section} open=${open.has(section.number)} toggle=${() => toggle(section.number)}>
        ${section.pieces.map((one) => {
          const here = one.piece === now;
          return html`<${Drill} key=${one.piece} piece=${one} music=${one} now=${here} standing=${standings[one.piece]} tag=${here ? practice.tag : ''} larger=${options.larger}
            hide=${here ? options.hide : 'nothing'} loop=${here && options.loop} bars=${here ? practice.bars : null} loopBars=${here ? practice.loopBars : null} onWhere=${setWhere} choose=${() => goTo(one.piece)}
            tick=${(tempo, memory, on) => practice.tick(tempo, memory, on, one, standings[one.piece])} />`;
        })}
      <//>`)}
      <p class="quiet">Rest before you are tired. Stop at pain, and do not play through it. Mind the volume: protect your ears.</p>
    </section></main>
    <${PracticeFoot} practice=${practice} options=${options} change=${change} where=${where} standing=${standings[now]} goal=${piece.goal} piece=${piece} />`;
}

document.getElementById('still')?.remove();
const root = document.createElement('div');
root.id = 'page';
document.body.append(root);
const voices = ['status', 'alert'].map((role) => {
  const region = document.createElement('div');
  region.className = 'vh';
  region.setAttribute('role', role);
  document.body.append(region);
  return region;
});
setVoices(...voices);
listen();
warmUp();
render(html`<${Phone} />`, root);
