// Write: the chart as text, beside it the tune as a rhythm part with what each chord means.
import { html, useEffect, useMemo, useRef, useState } from '../html.js';
import { go, onLeave, tunePath } from '../address.js';
import { ChartFile } from '../chart_file.js';
import { recall, remember } from '../device.js';
import { useKeys } from '../keys.js';
import { get, send } from '../net.js';
import { useNews } from '../news.js';
import { useShared } from '../shared.js';
import { tell } from '../voice.js';
import { useHear } from '../hearing.js';
import { makeEditor } from '../parts/editor.js';
import { Box, FaultLine, Pick } from '../parts/controls.js';
import { ChordStrip } from '../parts/chord_strip.js';
import { Foot } from '../parts/foot.js';
import { HearButton, TempoGroup } from '../parts/hear_controls.js';
import { LoopLine, LoopMarks, barUnder, useTaps } from '../parts/loop_bars.js';
import { CountIn, SoundingBar, useSoundingBar } from '../parts/sounding_bar.js';
import { columns, System, useDrawings, useWidth } from '../parts/score.js';
import { ChordName, Tempo, barsOf, plural, pretty, spoken } from '../parts/words.js';

const kSoon = 40; // milliseconds between a key and asking what it means
const kStillTyping = 600; // no slip at the word under the caret before that
const kNone = 'N.C.';
const kForms = { blues: ', a blues', modal: ', modal' };

/** What the server makes of the text, always of the newest; the last good one stays meanwhile. */
function useAnalysis(name) {
  const [answer, set] = useState(null);
  const [waits, setWaits] = useState(false);
  const [fault, setFault] = useState(null);
  const running = useRef(null);
  const timer = useRef(null);
  const slow = useRef(null);
  const ask = (request) => {
    clearTimeout(timer.current);
    timer.current = setTimeout(async () => {
      running.current?.abort();
      running.current = new AbortController();
      clearTimeout(slow.current);
      slow.current = setTimeout(() => setWaits(true), 100);
      try {
        const next = await send('POST', '/api/analyse', { ...request, name, music: true }, { signal: running.current.signal });
        clearTimeout(slow.current);
        setWaits(false);
        setFault(null);
        set((before) => ({ ...(next.chords ? next : { ...before, slips: next.slips, ok: next.ok }), of: request.text }));
      } catch (problem) {
        if (problem.name !== 'AbortError') setFault(problem);
      }
    }, kSoon);
  };
  return { answer, waits, fault, ask };
}

const key = (one) => (one ? `${one.tonic} ${one.mode}` : '');

// Bars (from 0) at which a section begins.
const sectionStarts = (answer) => (answer.sections ?? []).map((section) => section.bar - 1);

/** Which chords stand in which system. A bar that is the one before again ("%") has symbols in the drawing and none in the chart. */
function placed(drawings, chords) {
  const inBar = new Map();
  chords.forEach((chord, index) => {
    if (chord.symbol === kNone) return;
    if (!inBar.has(chord.bar)) inBar.set(chord.bar, []);
    inBar.get(chord.bar).push({ chord, index });
  });
  let bar = 0;
  return drawings.map((drawing) => {
    const first = bar + 1;
    bar += drawing.measures.length;
    const taken = new Map();
    const over = drawing.harms.map((harm) => {
      const number = first + harm.measure;
      const nth = taken.get(number) ?? 0;
      taken.set(number, nth + 1);
      const found = inBar.get(number)?.[nth];
      return found ? { ...found, x: harm.x } : null;
    });
    return { drawing, over, shown: over.filter(Boolean), first, last: bar };
  });
}

const symbolsIn = (drawings) => drawings.map((drawing) => drawing.measures.map((_, i) => drawing.harms.filter((harm) => harm.measure === i).length)).flat();

// Has the drawing a symbol for each of these chords, bar by bar?
function holds(drawings, chords) {
  const wanted = new Map();
  for (const chord of chords) if (chord.symbol !== kNone) wanted.set(chord.bar, (wanted.get(chord.bar) ?? 0) + 1);
  const there = symbolsIn(drawings);
  return [...wanted].every(([bar, count]) => there[bar - 1] === count);
}

// A chord that was not read has no symbol on the staff: where its beat is, in the drawing's columns.
function notRead(system, chords, slips) {
  const out = [];
  for (const chord of chords) {
    if (chord.symbol !== kNone || chord.bar < system.first || chord.bar > system.last || chord.from === null) continue;
    const slip = slips.find((one) => one.from >= chord.from && one.from <= chord.to);
    const beats = system.drawing.measures[chord.bar - system.first]?.beats ?? [];
    const x = beats[Math.min(beats.length - 1, Math.floor(chord.beat - 1))];
    if (slip && x !== undefined) out.push({ slip, x });
  }
  return out;
}

// As the instrument reads it that is picked above.
const asRead = (chord) => chord.read ?? chord;

function Meaning({ chord, reasons }) {
  return html`<div>
    <p class="num">${pretty(chord.numeral)}</p>
    <p class="sc">${pretty(asRead(chord).scale_name)}</p>
    ${reasons && html`<p class="why">${chord.fixed ? 'fixed by you' : chord.as_in_bar ? `as in bar ${chord.as_in_bar}` : pretty(asRead(chord).why)}</p>`}
  </div>`;
}

// Each reason once, with its chord; what stands as in a bar before has been said.
function ReasonsBelow({ chords }) {
  const said = chords.filter((chord) => chord.fixed || (!chord.as_in_bar && asRead(chord).why));
  return said.length > 0 && html`<ul class="whys">${said.map((chord) => html`<li class="why"><b><${ChordName} symbol=${asRead(chord).symbol} /></b> ${chord.fixed ? 'fixed by you' : pretty(asRead(chord).why)}</li>`)}</ul>`;
}

// A note on the whole line has no place in the text, and names the line.
function atLine(note) {
  const line = note.line ?? /:(\d+)(:\d+)?$/.exec(note.where ?? '')?.[1];
  return line ? `Line ${line}: ` : '';
}

function PartSystem({ system, bar, begins, count, loop, labelled, all, slips, open, here, toggle, reasons, below, strip, textOf }) {
  const { drawing, shown, first, last } = system;
  const faults = notRead(system, all, slips);
  const y = drawing.harms.length ? Math.min(...drawing.harms.map((harm) => harm.y)) : drawing.staffTop - 8;
  const cells = [...shown.map(({ chord, index, x }) => ({ x, chord, index })), ...faults.map(({ slip, x }) => ({ x, slip }))].sort((a, b) => a.x - b.x);
  const over = system.over.map((one) => one && html`<button class=${`chb${here === one.index ? ' here' : ''}`} aria-expanded=${open === one.index ? 'true' : 'false'} data-chord=${one.index} onClick=${() => toggle(one.index)}>
    <${ChordName} symbol=${asRead(one.chord).symbol} /><span class="vh">, ${pretty(asRead(one.chord).scale_name)}</span></button>`);
  const under = html`<div class="an" style=${{ gridTemplateColumns: columns(cells.map((cell) => cell.x)) }}>
    <i></i>
    ${cells.map((cell) => cell.slip
      ? html`<div><p class="num"><span class="tag">slip ${cell.slip.number}</span></p><p class="sc">not read yet</p></div>`
      : html`<${Meaning} chord=${cell.chord} reasons=${reasons && !below} />`)}
  </div>
  ${below && html`<${ReasonsBelow} chords=${shown.map((one) => one.chord)} />`}`;
  return html`<div class="partsys">
    <p class=${`barno${labelled ? ' beside' : ''}`} aria-hidden="true">${first}</p>
    <${System} drawing=${drawing} label=${`${barsOf(first, last)}`} over=${over} under=${under}>
      ${faults.map(({ slip, x }) => html`<span class="at" style=${{ left: `${x}%`, top: `${y}%` }}><span class="cs slipmark">${textOf(slip)}</span></span>`)}
      ${loop && html`<${LoopMarks} system=${drawing} offset=${first - 1} first=${loop[0]} last=${loop[1]} />`}
      ${count && begins >= first - 1 && begins < last && html`<${CountIn} drawing=${drawing} measure=${drawing.measures[begins + 1 - first]} count=${count} />`}
      ${bar !== null && bar >= first - 1 && bar < last && html`<${SoundingBar} drawing=${drawing} measure=${drawing.measures[bar + 1 - first]} />`}
    <//>
    ${shown.some(({ index }) => index === open) && strip}
  </div>`;
}

// A bar in four or more has several chords.
function sharesBars(chords) {
  const counts = new Map();
  for (const chord of chords) counts.set(chord.bar, (counts.get(chord.bar) ?? 0) + 1);
  return [...counts.values()].filter((count) => count > 1).length * 4 >= counts.size && counts.size > 0;
}

function RhythmPart({ answer, bars, loopBars, slips, open, here, toggle, reasons, strip, textOf }) {
  const place = useRef(null);
  const width = useWidth(place);
  const { bar, count } = useSoundingBar('changes');
  // Four bars stay in a line: reasons that have no room under their chords stand below the line.
  const crowded = reasons && width < 1100 && sharesBars(answer?.chords ?? []);
  const perSystem = width >= 600 ? 4 : width >= 260 ? 2 : 1;
  const staff = width >= 760 ? 32 : 27;
  const drawn = useDrawings(width && answer?.musicxml && { score: answer.musicxml, form: 'musicxml', width, staff, perSystem, sections: sectionStarts(answer) });
  // The words of a new reading stand under the old drawing at once, where it has as many chords; else they wait for the new one.
  const chordsShown = useRef(null);
  const systems = useMemo(() => {
    const chords = answer?.chords ?? [];
    if (!drawn.waits || holds(drawn.systems, chords)) chordsShown.current = chords;
    return placed(drawn.systems, chordsShown.current ?? []);
  }, [drawn.systems, drawn.waits, answer?.chords]);
  const taps = useTaps('changes', loopBars);
  const tapped = (event) => {
    const one = event.target.closest('button') ? null : barUnder(event, place.current, drawn.systems);
    if (one !== null) taps.tap(one);
  };
  const begins = bars?.[0] ?? 0; // what is counted in
  const loop = taps.first !== null ? [taps.first, taps.first] : bars;
  return html`<div class="part taps" ref=${place} onClick=${tapped}>
    ${loop && html`<${LoopLine} first=${taps.first} bars=${bars} whole=${() => loopBars(null)} />`}
    ${drawn.fault && html`<p class="quiet">${drawn.fault.message}</p>`}
    ${systems.map((system) => html`<${PartSystem} key=${system.first} system=${system} bar=${bar} begins=${begins} count=${count} loop=${loop} labelled=${system.first > 1 && sectionStarts(answer ?? {}).includes(system.first - 1)} all=${chordsShown.current} slips=${slips} open=${open} here=${here} toggle=${toggle} reasons=${reasons} below=${crowded} strip=${strip} textOf=${textOf} />`)}
  </div>`;
}

const suggestion = (slip) => slip.instead?.[0] ?? null;

function SlipBox({ slip, take, leave, show }) {
  const bar = slip.bar ? `, bar ${slip.bar}` : '';
  return html`<div class="slipbox">
    <p><button class="tag" onClick=${show}>slip ${slip.number}</button> <span class="quiet">line ${slip.line}, place ${slip.column}${bar}</span></p>
    <p>${slip.message}</p>
    ${slip.hint && !suggestion(slip) && html`<p class="quiet">${slip.hint}</p>`}
    <div class="acts">
      ${(slip.instead ?? []).map((one, i) => html`<button class=${`b${i === 0 ? ' main' : ''}`} onClick=${() => take(slip, one)}>Write ${one.text.trim() || 'nothing'}</button>`)}
      <button class="b q" onClick=${leave}>Leave it</button>
    </div>
  </div>`;
}

function OutsideBar({ outside, showBoth, both, keep, take }) {
  return html`<div class="faultline" role="alert">
    <p>${outside.text === null ? 'This tune was removed outside.' : 'This tune was changed outside.'}</p>
    <span class="grp">
      ${outside.text !== null && html`<button class="b" aria-expanded=${both} onClick=${showBoth}>Show both</button>`}
      <button class="b" onClick=${keep}>Keep mine${outside.text === null ? '' : ' (theirs goes to the bin)'}</button>
      ${outside.text !== null && html`<button class="b" onClick=${take}>Take theirs</button>`}
    </span>
    ${both && outside.text !== null && html`<pre class="theirs" tabindex="0" aria-label="The chart as it was changed outside">${outside.text}</pre>`}
  </div>`;
}

const Howto = () => html`<details class="help"><summary>How a chart is written</summary>
  <dl class="howto">
    <div><dt><code>| Dm7 | G7 |</code></dt><dd>a chord for each bar, between bar lines</dd></div>
    <div><dt><code>| Dm7 G7 |</code></dt><dd>two that share the bar; <code>/</code> where the chord before goes on</dd></div>
    <div><dt><code>%</code></dt><dd>the bar before again</dd></div>
    <div><dt><code>[A]</code></dt><dd>a section, before its first bar</dd></div>
    <div><dt><code>|: … :|</code></dt><dd>a repeat; endings <code>|1. … :|2. …</code></dd></div>
    <div><dt><code>G7[altered]</code></dt><dd>the scale that this chord takes</dd></div>
    <div><dt><code>Key: Bb</code></dt><dd>lines above the music: Title, Key, Meter, Tempo, Feel</dd></div>
    <div><dt><code>; words</code></dt><dd>a comment, to the end of the line</dd></div>
  </dl>
</details>`;

export function Write() {
  const { at, words, state, stand, setStand } = useShared();
  const name = at.tune;
  const [tune, setTune] = useState(null);
  const [fault, setFault] = useState(null);
  const [file, setFile] = useState({ saved: 'saved', outside: null, note: '' });
  const [both, setBoth] = useState(false);
  const [caret, setCaret] = useState(0);
  const [typedAt, setTypedAt] = useState(0);
  const [, redraw] = useState(0);
  const [open, setOpen] = useState(null);
  const [stripFault, setStripFault] = useState(null);
  const [left, setLeft] = useState(new Set()); // slips that are left as they are, by what they say
  const [reasons, setReasons] = useState(() => recall('reasons', true));
  const [instrument, setInstrument] = useState(() => recall('read-for', ''));
  const holder = useRef(null);
  const editor = useRef(null);
  const chart = useRef(null);
  const { answer, waits, fault: askFault, ask } = useAnalysis(name);
  const instrumentNow = useRef(instrument);
  instrumentNow.current = instrument;

  const request = (text) => ask({ text, ...(instrumentNow.current ? { instrument: instrumentNow.current } : {}) });
  const acts = useRef({});

  useEffect(() => {
    const mine = new ChartFile(name, setFile);
    chart.current = mine;
    mine.load().then(
      (loaded) => {
        setTune(loaded);
        if (loaded.text === null) return;
        remember('opened', { ...recall('opened', {}), [name]: Date.now() });
        setStand({ name, title: loaded.title || name });
        document.title = `Write: ${loaded.title || name} · shedbook`;
        editor.current = makeEditor({
          parent: holder.current,
          text: loaded.text,
          label: `Chart of ${loaded.title || name}`,
          readOnly: state.guest,
          onText: (text) => {
            mine.change(text);
            setTypedAt(Date.now());
            setLeft((now) => (now.size ? new Set() : now));
            request(text);
          },
          onCaret: setCaret,
          onSlip: (way) => acts.current.toSlip(way),
          onTake: () => acts.current.takeSlip(),
        });
        const bar = /^\|\s*/m.exec(loaded.text);
        const from = recall(`caret.${name}`) ?? (bar ? bar.index + bar[0].length : 0);
        editor.current.view.dispatch({ selection: { anchor: Math.min(from, loaded.text.length) } });
        if (matchMedia('(min-width: 1000px)').matches) editor.current.focus();
        request(loaded.text);
      },
      (problem) => setFault(problem),
    );
    const away = () => mine.flush();
    addEventListener('pagehide', away);
    const stay = onLeave(away);
    return () => {
      stay();
      removeEventListener('pagehide', away);
      if (editor.current) remember(`caret.${name}`, editor.current.caret());
      mine.flush();
      mine.close();
      editor.current?.destroy();
      editor.current = null;
    };
  }, [name]);

  useNews(['tunes'], async () => {
    const theirs = await chart.current?.look();
    if (theirs !== null && theirs !== undefined && editor.current) {
      editor.current.replaceAll(theirs);
      tell('The chart was changed outside; this is how it reads now');
    }
  });

  // Slips with numbers; one at the word under the caret waits until the player has stopped.
  const all = useMemo(() => (answer?.slips ?? []).filter((slip) => slip.severity === 'error').map((slip, i) => ({ ...slip, number: i + 1 })), [answer]);
  const current = editor.current?.text();
  const typing = Date.now() - typedAt < kStillTyping;
  const slips = all.filter((slip) => !(typing && caret >= slip.from && caret <= slip.to));
  useEffect(() => {
    if (!typing) return undefined;
    const timer = setTimeout(() => redraw((n) => n + 1), kStillTyping);
    return () => clearTimeout(timer);
  }, [typedAt]);
  const here = useMemo(() => {
    const index = (answer?.chords ?? []).findIndex((chord) => chord.from !== null && chord.symbol !== kNone && caret >= chord.from && caret <= chord.to);
    return index < 0 ? null : index;
  }, [answer, caret]);
  const slipKey = slips.map((slip) => `${slip.from} ${slip.to}`).join();
  useEffect(() => {
    if (!editor.current || answer?.of !== current) return;
    editor.current.mark({ slips, here: here === null ? null : answer.chords[here] });
  }, [slipKey, here, answer]);

  const takeSlip = (slip, one) => {
    editor.current.write(one.from, one.to, one.text);
    editor.current.focus();
    tell(`Written: ${one.text}`);
  };
  acts.current.toSlip = (way) => {
    const ordered = [...slips].sort((a, b) => a.from - b.from);
    const next = way > 0 ? ordered.find((slip) => slip.from > editor.current.caret()) : ordered.findLast((slip) => slip.from < editor.current.caret());
    const to = next ?? (way > 0 ? ordered[0] : ordered.at(-1));
    if (to) editor.current.goTo(to.from);
    return Boolean(to);
  };
  acts.current.takeSlip = () => {
    const now = editor.current.caret();
    const slip = slips.find((one) => now >= one.from && now <= one.to) ?? slips[0];
    if (!slip || !suggestion(slip)) return false;
    takeSlip(slip, suggestion(slip));
    return true;
  };

  const toggle = (index) => {
    setStripFault(null);
    const chord = answer.chords[index];
    if (chord.from !== null && editor.current) editor.current.view.dispatch({ selection: { anchor: chord.from } });
    setOpen((now) => (now === index ? null : index));
  };
  const closeStrip = () => {
    const button = document.querySelector(`[data-chord="${open}"]`);
    setOpen(null);
    button?.focus();
  };
  const writeScale = async (scale) => {
    try {
      const next = await send('POST', '/api/scale', { text: editor.current.text(), inst: answer.chords[open].inst ?? open, scale });
      editor.current.replaceAll(next.text);
      tell('Written into the chart');
      closeStrip();
    } catch (problem) {
      setStripFault(problem);
    }
  };

  // The title as it is written now is that of the tune on the stand and in the list; the file keeps its name until it is asked.
  const written = answer?.of === current && answer?.title ? answer.title : null;
  useEffect(() => {
    if (!written || stand?.name !== name || stand.title === written) return;
    setStand({ name, title: written });
    document.title = `Write: ${written} · shedbook`;
  }, [written, stand?.name]);
  const fileName = fileNameOf(written ?? '');
  const asksForName = Boolean(tune && written && written !== tune.title && fileName && fileName !== name && !state.guest);
  const [nameFault, setNameFault] = useState(null);
  const renameFile = async () => {
    try {
      await chart.current.flush();
      const made = await send('POST', `/api/tunes/${encodeURIComponent(name)}/rename`, { to: fileName });
      setStand({ name: made.name, title: written });
      go(tunePath(made.name, 'write'));
    } catch (problem) {
      setNameFault(problem);
    }
  };

  const [tempo, setTempo] = useState(null);
  const beat = tempo ?? answer?.tempo ?? tune?.tempo ?? 120;
  const hearing = useHear();
  // Bars that were tapped are heard over and over.
  const [picked, setPicked] = useState(null);
  const bars = picked && picked[1] < (answer?.bars ?? 0) ? picked : null;
  const loopBars = (one, other) => setPicked(one === null ? null : [Math.min(one, other), Math.max(one, other)]);
  const changes = [{ document: answer?.document, piece: 'changes', tempo: beat, times: bars ? 2 : 1 }, { tag: 'changes', bars, loop: Boolean(bars) }];
  const hearChanges = () => hearing.toggle(...changes);
  useEffect(() => {
    if (hearing.sounding && hearing.tag === 'changes') hearing.start(...changes);
  }, [bars?.join()]);
  const hearScale = async (scale) => {
    try {
      const chord = answer.chords[open];
      const sheet = await send('POST', '/api/sheet', { topic: chord.symbol, scale, ...(instrument ? { instrument } : {}) });
      const piece = sheet.sections[0].pieces[0];
      await hearing.start({ document: sheet.document, piece: piece.piece, tempo: Math.min(beat, 100), times: 1 }, { tag: 'scale', countIn: false });
    } catch (problem) {
      setStripFault(problem);
    }
  };
  useEffect(() => {
    instrumentNow.current = instrument;
    if (editor.current) request(editor.current.text());
  }, [instrument]);

  // Who reads the changes for an instrument plays it: Practise, Today and Paper begin with it.
  const readFor = (value) => {
    remember('read-for', value);
    if (value) remember('pick.instrument', value);
    setInstrument(value);
  };
  const undo = () => (editor.current?.undo(), redraw((n) => n + 1));
  const redo = () => (editor.current?.redo(), redraw((n) => n + 1));
  const toPractise = () => go(tunePath(name, 'practise'));
  const faster = () => setTempo(Math.min(400, beat + 4));
  const slower = () => setTempo(Math.max(20, beat - 4));
  useKeys({ hear: hearChanges, faster, slower });

  if (fault) return html`<main id="sheet" class="desk"><${FaultLine} fault=${fault} again=${() => location.reload()} /></main>`;
  const notes = (answer?.slips ?? []).filter((slip) => slip.severity !== 'error');
  const boxes = slips.filter((slip) => !left.has(`${slip.from} ${slip.message}`));
  const textOf = (slip) => (current ?? '').slice(...wordAround(current ?? '', slip));
  const title = answer?.title || tune?.title || name;
  const strip = open !== null && answer?.chords?.[open] && html`<${ChordStrip} key=${open} chord=${answer.chords[open]} scales=${words.scales} write=${writeScale} hear=${hearScale} close=${closeStrip} fault=${stripFault} hearing=${hearing} />`;
  const note = file.saved === 'fails' ? file.note : all.length ? `the chart as it stands, with ${plural(all.length, 'slip')}` : 'the chart as it stands';
  return html`<main id="sheet" class="desk p-write">
      ${file.outside && html`<${OutsideBar} outside=${file.outside} both=${both} showBoth=${() => setBoth(!both)} keep=${() => chart.current.keepMine()}
        take=${() => editor.current.replaceAll(chart.current.takeTheirs())} />`}
      <div class="two">
      <section class="chart" aria-label="The chart">
        <div class="bar2"><h2>The chart</h2><span class="grp"><button class="b q" onClick=${undo}>Undo</button><button class="b q" onClick=${redo}>Redo</button></span></div>
        ${tune?.text === null && html`<p class="line">This tune is no text. Write it as a chart from the list of tunes.</p>`}
        <div class="ed" ref=${holder}></div>
        ${asksForName && html`<p class="line quiet">The file is still called ${name}. <button class="b q" onClick=${renameFile}>Rename it ${fileName}</button>${nameFault && html`<span class="wrong" role="alert">${nameFault.message}</span>`}</p>`}
        <section id="slips" class=${`slips${boxes.length ? '' : ' empty'}`} aria-label="Slips" aria-live="polite">
          ${boxes.slice(0, 4).map((slip) => html`<${SlipBox} key=${`${slip.from} ${slip.message}`} slip=${slip} take=${takeSlip} show=${() => editor.current.goTo(slip.from)} leave=${() => setLeft(new Set([...left, `${slip.from} ${slip.message}`]))} />`)}
          ${boxes.length > 4 && html`<p class="quiet">and ${plural(boxes.length - 4, 'more slip')} below them</p>`}
        </section>
        ${notes.length > 0 && html`<ul class="quiet" aria-label="Notes on the chart" aria-live="polite">${notes.map((one) => html`<li>${atLine(one)}${one.message}${one.hint ? `; ${one.hint}` : ''}</li>`)}</ul>`}
        <${Howto} />
      </section>
      <section class=${`sheet part${waits ? ' waits' : ''}`} aria-label="The changes with key, function and scale">
        <div class="title"><h1>${title}</h1><p class="it">${answer?.feel ?? ''} ${(answer?.tempo ?? tune?.tempo) && html`<${Tempo} at=${answer?.tempo ?? tune.tempo} beat=${answer?.beat} />`}</p></div>
        <div class="under">
          <p class="quiet">${answer?.tune?.home ? html`${pretty(key(answer.home_read ?? answer.tune.home))}, ` : ''}${answer?.bars ? plural(answer.bars, 'bar') : 'What you write appears here'}${kForms[answer?.tune?.form] ?? ''}</p>
          <span class="grp">
            <${Pick} label="Read for" value=${instrument} options=${[{ value: '', label: 'as it sounds' }, ...words.instruments.map((one) => ({ value: one.id, label: one.name }))]} onChange=${readFor} />
            <${Box} label="Reasons" checked=${reasons} onChange=${(on) => (remember('reasons', on), setReasons(on))} />
          </span>
        </div>
        ${askFault && html`<${FaultLine} fault=${askFault} again=${() => request(editor.current.text())} />`}
        <${RhythmPart} answer=${answer} bars=${bars} loopBars=${loopBars} slips=${slips} open=${open} here=${here} toggle=${toggle} reasons=${reasons} strip=${strip} textOf=${textOf} />
      </section>
      </div>
    </main>
    <${Foot} left=${{ status: { saved: 'Saved', waits: 'Not saved yet', fails: 'Not saved' }[file.saved], note }} right=${{ small: 'next', label: 'To Practise', act: toPractise }}>
      <span class="grp main3">
        <${HearButton} hearing=${hearing} tag="changes" label="Hear the changes" short="Hear" disabled=${!answer?.document} onPress=${hearChanges} />
        <${TempoGroup} tempo=${beat} beat=${answer?.beat} slower=${slower} faster=${faster} set=${setTempo} />
      </span>
    <//>`;
}

// "Porch Lamp Blues" lies in the file porch-lamp-blues.
const fileNameOf = (title) => title.normalize('NFKD').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '');

// The word that holds a slip, for the staff.
function wordAround(text, slip) {
  let from = slip.from;
  let to = slip.to;
  while (from > 0 && !/[\s|]/.test(text[from - 1])) from -= 1;
  while (to < text.length && !/[\s|]/.test(text[to])) to += 1;
  return [from, to];
}
