// Practise: the units of a tune, hardest first, each with its drills, to hear, to play and to tick.
import { html, useEffect, useMemo, useRef, useState } from '../html.js';
import { go, goValues } from '../address.js';
import { recall, remember } from '../device.js';
import { get } from '../net.js';
import { useNews } from '../news.js';
import { isAtTempo, useOptions, usePractice, useStand } from '../practice.js';
import { useShared } from '../shared.js';
import { FaultLine, LevelWords, Pick } from '../parts/controls.js';
import { Drill } from '../parts/drill.js';
import { Form } from '../parts/form.js';
import { PracticeFoot } from '../parts/practice_foot.js';
import { ChordName, Tempo, nameOf, plural, pretty } from '../parts/words.js';

const kFirstLevel = 3; // as under Paper
const kHatch = { easy: '·', light: '/', medium: '//', hard: '///' };


const placesOf = (section) => {
  const places = (section.places ?? []).map((place) => (place.first_bar === place.last_bar ? `${place.first_bar}` : `${place.first_bar}–${place.last_bar}`));
  if (!places.length) return '';
  return places.length === 1 && !places[0].includes('–') ? `bar ${places[0]}` : `bars ${places.join(', ')}`;
};

function standingOf(section, standings) {
  const done = section.pieces.filter((piece) => isAtTempo(piece, standings[piece.piece])).length;
  return `${done} of ${section.pieces.length} at tempo`;
}

/** The document of a tune for these picks; asked again when the server has forgotten it. */
function useDocument(tune, picks) {
  const [doc, set] = useState(null);
  const [fault, setFault] = useState(null);
  const [turn, again] = useState(0);
  const key = JSON.stringify(picks);
  useEffect(() => {
    let over = false;
    get('/api/practise', { tune, ...picks }).then(
      (answer) => !over && (set(answer), setFault(null)),
      (problem) => !over && setFault(problem),
    );
    return () => {
      over = true;
    };
  }, [tune, key, turn]);
  return { doc, set, fault, again: () => again((n) => n + 1) };
}

/** The music of one section, by piece. */
export function useMusic(documentId, section, again) {
  const [music, set] = useState({ of: '', pieces: {} });
  const key = documentId && section !== undefined ? `${documentId} ${section}` : '';
  useEffect(() => {
    if (!key) return undefined;
    let over = false;
    get('/api/music', { document: documentId, section }).then(
      (answer) => !over && set({ of: key, pieces: answer.pieces }),
      (problem) => {
        if (!over && problem.status === 410) again?.();
        else if (!over) set({ of: key, pieces: {}, fault: problem });
      },
    );
    return () => {
      over = true;
    };
  }, [key]);
  return music.of === key ? music : { pieces: {} };
}

function Units({ sections, now, standings, address }) {
  let sitting = null;
  return html`<nav class="units" aria-label="Units"><h2>Units</h2><ol>
    ${sections.map((section) => {
      const head = section.sitting && section.sitting !== sitting ? section.sitting : null;
      sitting = section.sitting ?? sitting;
      return html`${head && html`<li class="sitting">${head}</li>`}<li><a href=${address(section)} aria-current=${section.number === now ? 'true' : undefined}>
        <span class="un">${section.number}</span>
        <span><b>${pretty(nameOf(section))}</b><span class="quiet">${placesOf(section)}</span>
          <span class="quiet">${section.grade && html`<span class="hatch" aria-hidden="true">${kHatch[section.grade] ?? ''}</span>${section.grade}, `}${standingOf(section, standings)}</span></span>
      </a></li>`;
    })}
  </ol></nav>`;
}

function PlayOn({ section }) {
  const chords = section.chords ?? [];
  if (!chords.length && !section.scale) return null;
  return html`<aside class="margin" aria-label="In the margin"><h2>What you play on</h2>
    <dl>
      ${chords.map((chord) => html`<div><dt><${ChordName} symbol=${chord.symbol} /></dt><dd>${pretty(chord.scale_name)}<span class="nts">${pretty((chord.notes ?? []).join(' '))}</span><span class="why">${pretty(chord.why)}</span></dd></div>`)}
      ${!chords.length && section.scale && html`<div class="whole"><dt>${pretty(section.name)}</dt><dd><span class="nts">${pretty((section.notes ?? []).join(' '))}</span></dd></div>`}
    </dl>
  </aside>`;
}

function Picks({ words, doc, picks, change }) {
  const [open, setOpen] = useState(false);
  const instrument = doc?.instrument?.id ?? picks.instrument ?? '';
  const level = doc?.level ?? picks.level;
  const planWords = picks.plan ? (words.plans.find((one) => one.id === picks.plan)?.title ?? picks.plan) : 'hardest unit first';
  return html`<button class="b q picksum" aria-expanded=${open} onClick=${() => setOpen(!open)}><b>${doc?.instrument?.name ?? ''}</b>, level ${level}, ${planWords} <span class="pen">change</span></button>
    <div class=${`picks${open ? ' open' : ''}`}>
      <${Pick} label="Instrument" value=${instrument} options=${words.instruments.map((one) => ({ value: one.id, label: one.name }))} onChange=${(value) => change({ instrument: value })} />
      <${Pick} label="Level" value=${level} options=${words.levels.map((one) => ({ value: one.level, label: String(one.level) }))} onChange=${(value) => change({ level: value })} />
      <${Pick} label="Plan" value=${picks.plan ?? ''} options=${[{ value: '', label: 'hardest unit first' }, ...words.plans.map((one) => ({ value: one.id, label: one.title }))]} onChange=${(value) => change({ plan: value })} />
      <${LevelWords} levels=${words.levels} level=${level} />
    </div>`;
}

const withValues = (values) => {
  const next = new URLSearchParams(location.search);
  for (const [name, value] of Object.entries(values)) {
    if (value === null) next.delete(name);
    else next.set(name, value);
  }
  return `${location.pathname}?${next}`;
};

export function Practise() {
  const { at, words, state, stand, setStand } = useShared();
  const tune = at.tune;
  const picks = useMemo(() => {
    const out = {};
    for (const name of ['instrument', 'level', 'plan']) {
      const value = at.values[name] ?? recall(`pick.${name}`, null);
      if (value) out[name] = value;
    }
    out.level ??= kFirstLevel;
    return out;
  }, [at.values.instrument, at.values.level, at.values.plan]);
  const { doc, set: setDoc, fault, again } = useDocument(tune, picks);
  const [options, change] = useOptions();
  const [where, setWhere] = useState('');
  const standings = doc?.standings ?? {};
  const sections = doc?.sections ?? [];
  const section = sections.find((one) => String(one.number) === at.values.unit) ?? sections.find((one) => one.pieces.some((piece) => !isAtTempo(piece, standings[piece.piece]))) ?? sections[0];
  const music = useMusic(doc?.document, section?.number, again);
  const chosen = section?.pieces.find((one) => one.piece === at.values.drill);
  const firstOpen = useMemo(() => section?.pieces.find((piece) => !isAtTempo(piece, standings[piece.piece]))?.piece, [doc?.document, section?.number]);
  const piece = chosen ?? section?.pieces.find((one) => one.piece === firstOpen) ?? section?.pieces[0];

  useEffect(() => {
    if (!doc) return;
    document.title = `Practise: ${doc.title} · shedbook`;
    setStand({ name: tune, title: doc.title });
    remember('opened', { ...recall('opened', {}), [tune]: Date.now() });
  }, [doc?.document]);
  useNews(['log'], async () => {
    if (!doc) return;
    const answer = await get('/api/standings', { document: doc.document }).catch(() => null);
    if (answer) setDoc((now) => now && { ...now, standings: answer.standings });
  });

  const flat = sections.flatMap((one) => one.pieces.map((two) => ({ unit: one.number, drill: two.piece })));
  const index = flat.findIndex((one) => one.drill === piece?.piece);
  const to = (one) => one && (() => goValues({ unit: one.unit, drill: one.drill }));
  const practice = usePractice({
    document: doc?.document,
    piece,
    standing: piece && standings[piece.piece],
    options,
    change,
    guest: state.guest,
    onStanding: (name, standing) => setDoc((now) => ({ ...now, standings: { ...now.standings, [name]: standing } })),
    next: to(flat[index + 1]),
    before: to(flat[index - 1]),
  });
  useStand(practice.phase === 'sounding', '.drill.now');

  const address = (one) => withValues({ unit: one.number, drill: null });
  const changePicks = (some) => {
    for (const [name, value] of Object.entries(some)) remember(`pick.${name}`, value || null);
    goValues({ ...some, drill: null });
  };
  if (fault && !doc) {
    const slips = fault.said?.slips ?? [];
    return html`<main id="sheet" class="desk p-practise"><${Picks} words=${words} doc=${null} picks=${picks} change=${changePicks} />
      <${FaultLine} fault=${fault} again=${again} />
      ${slips.length > 0 && html`<section class="sheet"><ul>${slips.map((slip) => html`<li><span class="tag">slip</span> line ${slip.line}: ${slip.message}</li>`)}</ul><p class="acts"><a class="b asb" href=${`/tune/${encodeURIComponent(tune)}/write`}>To Write</a></p></section>`}
    </main>`;
  }
  if (!doc || !section) return html`<main id="sheet" class="desk p-practise" aria-busy="true"><p class="quiet">${doc ? 'No drill for these picks.' : ''}</p></main>`;
  const allDone = sections.every((one) => one.pieces.every((two) => isAtTempo(two, standings[two.piece])));
  return html`<main id="sheet" class="desk p-practise">
      <${Picks} words=${words} doc=${doc} picks=${picks} change=${changePicks} />
      ${fault && html`<${FaultLine} fault=${fault} again=${again} />`}
      <div class="three">
        <${Units} sections=${sections} now=${section.number} standings=${standings} address=${address} />
        <section class="sheet" aria-label=${`Unit ${section.number}`}>
          <${Pick} className="unitpick" label="Unit" value=${section.number} options=${sections.map((one) => ({ value: one.number, label: `${one.number} ${nameOf(one)}, ${standingOf(one, standings).replace(' at tempo', '')}` }))} onChange=${(number) => goValues({ unit: number, drill: null })} />
          <${Form} form=${doc.form} units=${sections.filter((one) => one.kind === 'unit')} now=${section.number} address=${address} />
          <div class="title"><h1>${pretty(nameOf(section))}</h1><p class="it">${placesOf(section)} ${doc.goal && html`<${Tempo} at=${doc.goal} beat=${piece.beat} />`}</p></div>
          ${section.why && html`<p class="why lead">${pretty(section.why)}</p>`}
          ${allDone && html`<p class="line">Every drill here is at tempo. What is due comes back under Today.</p>`}
          ${music.fault && html`<${FaultLine} fault=${music.fault} />`}
          ${section.pieces.map((one) => {
            const now = one.piece === piece.piece;
            return html`<${Drill} key=${`${doc.document} ${one.piece}`} piece=${one} music=${music.pieces[one.piece]} now=${now} standing=${standings[one.piece]} guest=${state.guest}
              tag=${now ? practice.tag : ''} larger=${options.larger} hide=${now ? options.hide : 'nothing'} loop=${now && options.loop} bars=${now ? practice.bars : null} loopBars=${now ? practice.loopBars : null} onWhere=${setWhere}
              choose=${() => goValues({ unit: section.number, drill: one.piece })}
              tick=${(tempo, memory, on) => practice.tick(tempo, memory, on, one, standings[one.piece])} />`;
          })}
          ${doc.says?.length > 0 && html`<details class="help"><summary>What was left out, and why</summary><ul>${doc.says.map((line) => html`<li>${pretty(line)}</li>`)}</ul></details>`}
        </section>
        <${PlayOn} section=${section} />
      </div>
    </main>
    <${PracticeFoot} practice=${practice} options=${options} change=${change} where=${where} standing=${standings[piece.piece]} goal=${piece.goal ?? doc.goal} guest=${state.guest} piece=${piece} />`;
}
