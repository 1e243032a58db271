// Today: the day's programme, played through item by item with the clock of the sitting over it.
import { html, useEffect, useMemo, useState } from '../html.js';
import { goValues } from '../address.js';
import { recall, remember } from '../device.js';
import { get, send } from '../net.js';
import { useNews } from '../news.js';
import { useOptions, usePractice, useStand } from '../practice.js';
import { useShared } from '../shared.js';
import { kNoPress, recallSitting, useSitting } from '../sitting.js';
import { tell } from '../voice.js';
import { FaultLine, LevelWords, NotYetSign, Pick, RestSign, TickSign } from '../parts/controls.js';
import { Boxes, DrillMusic } from '../parts/drill.js';
import { Foot } from '../parts/foot.js';
import { PracticeFoot } from '../parts/practice_foot.js';
import { PagesByDrills, ScalesByKeys, TempoPicture } from '../parts/progress_pictures.js';
import { plural, pretty } from '../parts/words.js';

const kUsualLevel = 3; // as under Practise
const kMinutes = [10, 15, 20, 30, 45, 60, 90];
const isRest = (item) => item.what === 'break';
// What an item is in the log, and its how manieth visit: what is over stays over wherever another plan puts it.
function keysOf(items) {
  const visits = new Map();
  return items.map((item) => {
    const name = isRest(item) ? 'rest' : [item.kind, item.subject, item.root ?? '', item.work].join(' ');
    visits.set(name, (visits.get(name) ?? 0) + 1);
    return `${name} ${visits.get(name)}`;
  });
}

const longDay = (day) => new Date(`${day}T12:00:00`).toLocaleDateString('en-GB', { weekday: 'long', day: 'numeric', month: 'long' });

// The drill of the day's document that an item plays, with what the day says of it.
function pieceOf(day, item) {
  if (!item?.piece) return null;
  const piece = (day.sections ?? []).flatMap((section) => section.pieces).find((one) => one.piece === item.piece);
  return { ...piece, ...item, name: piece?.name ?? item.name, document: day.document };
}

/** A line with bar lines at the items' minutes, a rest for a break, pencil up to now. */
function ClockLine({ items, minutesOf, now, stateOf, spent, total }) {
  const width = matchMedia('(max-width: 699px)').matches ? 336 : 840;
  const scale = (width - 12) / total;
  let at = 0;
  const marks = items.map((item, i) => {
    const from = 6 + scale * at;
    at += minutesOf(item, i);
    return { item, from, to: 6 + scale * at, over: stateOf(i) };
  });
  const end = width - 6;
  const pen = Math.min(end, 6 + scale * spent);
  const words = `${Math.floor(spent)} of ${total} minutes; ${plural(marks.filter((one) => one.over).length, 'item')} over`;
  return html`<svg class="sess" viewBox=${`0 0 ${width} 54`} stroke="currentColor" role="img" aria-label=${words}>
    <path d=${`M6 24H${end}`} stroke-width="1.2" /><path d="M6 12v24" stroke-width="1.2" />
    ${marks.map(({ item, from, to, over }, i) => {
      const middle = (from + to) / 2;
      return html`<path d=${`M${to} 12v24`} stroke-width="1.2" />
        ${isRest(item) ? html`<path d=${`M${middle - 9} 24h18v6h-18z`} fill="currentColor" />`
          : over ? html`<path class="pen" d=${over === 'done' ? `M${middle - 8} 43l5 7 10 -16` : `M${middle - 8} 44h16`} fill="none" stroke-width="3" />`
          : html`<text x=${middle} y="49" text-anchor="middle" stroke="none" font-weight=${i === now ? '700' : undefined}>${minutesOf(item, i)}</text>`}`;
    })}
    <path d=${`M${end} 12v24`} stroke-width="4" />
    <path class="pen" d=${`M6 24H${pen}`} stroke-width="4" /><path class="pen" d=${`M${pen} 6v29`} stroke-width="3" />
    <path class="pen" d=${`M${pen - 7} 2h14l-7 11z`} fill="currentColor" stroke="none" />
  </svg>`;
}

function useDay(picks, turn, asks) {
  const [day, set] = useState(null);
  const [fault, setFault] = useState(null);
  const key = JSON.stringify([picks, turn]);
  useEffect(() => {
    if (!asks) return undefined;
    let over = false;
    get('/api/today', { ...picks, seed: turn || undefined }).then(
      (answer) => !over && (set(answer), setFault(null)),
      (problem) => !over && setFault(problem),
    );
    return () => {
      over = true;
    };
  }, [key, asks]);
  return { day, set, fault };
}

function usePieceMusic(piece) {
  const [music, set] = useState(null);
  const key = piece ? `${piece.document} ${piece.piece}` : '';
  useEffect(() => {
    set(null);
    if (!piece) return undefined;
    let over = false;
    get('/api/music', { document: piece.document, piece: piece.piece }).then((answer) => !over && set(answer.pieces[piece.piece] ?? Object.values(answer.pieces)[0]), () => {});
    return () => {
      over = true;
    };
  }, [key]);
  return music;
}

const isSame = (entry, item) => ['kind', 'subject', 'root', 'work'].every((name) => (entry[name] ?? null) === (item[name] ?? null));

function Progress({ instrument, semitones, scaleNames, titles, log, item, piece }) {
  const [progress, set] = useState(null);
  const [entries, setEntries] = useState([]);
  useEffect(() => {
    if (!instrument?.id) return;
    get('/api/progress', { instrument: instrument.id }).then(set, () => set(null));
    get('/api/log', { last: 300 }).then((answer) => setEntries(answer.entries.entries), () => {});
  }, [instrument?.id, log]);
  if (!progress) return null;
  const rows = progress.rows ?? [];
  const mine = piece ? entries.filter((entry) => entry.instrument === instrument.id && isSame(entry, piece.item ?? item)) : [];
  return html`${piece && html`<${TempoPicture} name=${piece.name} entries=${mine} goal=${piece.goal} boxes=${piece.boxes} />`}
    <${ScalesByKeys} rows=${rows} scaleNames=${scaleNames} semitones=${semitones} instrument=${instrument.name} />
    <${PagesByDrills} rows=${rows} titles=${titles} instrument=${instrument.name} />
    ${!rows.length && html`<section><h2>What adds up</h2><p class="quiet">Nothing is in the log yet. What you tick is drawn here.</p></section>`}
    ${rows.length > 0 && html`<section><details class="help"><summary>As a table</summary>
      <table class="states"><thead><tr><th scope="col">What</th><th scope="col">State</th></tr></thead><tbody>
        ${rows.map((row) => html`<tr><th scope="row">${pretty(row.name)}</th><td>${(row.drills ?? []).map((drill) => html`<span class="cell">${titles.get(drill.work) ?? drill.work}: ${drill.state}${drill.clean_tempo ? ` (${drill.clean_tempo})` : ''}</span>`)}</td></tr>`)}
      </tbody></table></details></section>`}`;
}

// A drill and a tune by their titles, not by the words that the commands take.
function titled(item, title, tunes) {
  // A line through a tune has the tune in its title.
  if (item.kind === 'etude' && title) return title;
  const text = item.read ?? item.name;
  const tune = tunes.find((one) => one.name === item.subject)?.title;
  const named = tune ? text.replace(item.subject, tune) : text;
  return title ? named.replace(item.work, title.charAt(0).toLowerCase() + title.slice(1)) : named;
}

function Item({ item, read, index, now, over, minutes, open, children, choose }) {
  const state = isRest(item) ? 'rest' : now ? 'now' : over === 'done' ? 'done' : 'todo';
  const sign = isRest(item) ? html`<${RestSign} />` : over ? html`<${over === 'done' ? TickSign : NotYetSign} /><span class="vh">${over}</span>` : index.number;
  const name = isRest(item) ? 'Rest' : pretty(read);
  return html`<li class=${state} aria-current=${now ? 'step' : undefined}>
    <span class="nn">${sign}</span>
    <div class="what">
      ${now ? html`<span class="wt">${name}</span>` : html`<button class="choose wt" onClick=${choose}>${name}</button>`}${' '}
      ${item.tune && html`<span class="from">${item.tune}</span>`}
      ${over === 'not yet' && html`<span class="quiet">not yet</span>`}
      <span class="why">${isRest(item) ? 'hands down, look away from the page' : pretty(item.why)}</span>
      ${open && children}
    </div>
    <span class="min">${minutes} min</span>
  </li>`;
}

export function Today() {
  const { words, state, at, stand } = useShared();
  const scaleNames = useMemo(() => new Map(words.scales.map((one) => [one.id, one.name])), [words]);
  const titles = useMemo(() => new Map(words.drills.map((one) => [one.id, one.title])), [words]);
  const [picks, setPicks] = useState(() => ({ minutes: recall('today.minutes', 30), instrument: recall('pick.instrument', ''), level: recall('pick.level', kUsualLevel), tunes: recall('today.tune', stand?.name ?? '') }));
  const [tunes, setTunes] = useState([]);
  useEffect(() => {
    get('/api/tunes').then((answer) => {
      setTunes(answer.tunes);
      // One that is gone, or not ready to be practised, is no reason for a day without a plan.
      setPicks((now) => (answer.tunes.some((one) => one.name === now.tunes && !one.slip) ? now : { ...now, tunes: '' }));
    }, () => {});
  }, []);
  const [turn, setTurn] = useState(() => recall(`plan.${state.today}`, 0));
  // Of somebody whose log is empty shedbook knows no instrument.
  const known = Boolean(picks.instrument) || state.news.log > 0;
  const { day, set: setDay, fault } = useDay(picks, turn, known);
  const [options, change] = useOptions();
  const [where, setWhere] = useState('');
  const [stopped, setStopped] = useState(false);
  const [log, setLog] = useState(0);
  const items = day?.pieces ?? [];
  const dayName = day?.day ?? state.today;
  const keys = useMemo(() => keysOf(items), [day?.document, items.length]);
  const firstOpen = useMemo(() => Math.max(0, keys.findIndex((key) => !recallSitting(dayName).over[key])), [keys]);
  const nowIndex = Math.min(Math.max(0, items.length - 1), at.values.item ? Number(at.values.item) - 1 : firstOpen);
  const item = items[nowIndex];
  const piece = pieceOf(day, item);
  const music = usePieceMusic(piece);
  const standingOf = (index) => day?.standings?.[items[index]?.piece];

  const readOf = (one) => titled(one, (one.kind === 'scale' ? titles.get(one.work) : null) ?? pieceOf(day, one)?.name, tunes);
  // '', 'done' or 'not yet'. Only a press says how it was: what one leaves without a word stays open to the eye.
  const pressed = (index) => {
    const { right, wrong } = sitting.presses[keys[index]] ?? kNoPress;
    return right > 0 ? 'done' : wrong > 0 ? 'not yet' : '';
  };
  const stateOf = (index) => (!sitting.over[keys[index]] ? '' : isRest(items[index]) ? 'done' : pressed(index));

  const goItem = (index) => {
    if (index >= 0 && index < items.length) goValues({ item: index + 1 });
  };
  const nextItem = () => {
    sitting.finish(keys[nowIndex], rest || !pressed(nowIndex) ? {} : { name: readOf(item), notYet: pressed(nowIndex) === 'not yet' });
    if (nowIndex + 1 < items.length) goItem(nowIndex + 1);
    else setStopped(true);
  };
  const press = (before, after) => sitting.press(keys[nowIndex], after.right - (before?.right ?? 0), after.wrong - (before?.wrong ?? 0));
  const practice = usePractice({
    document: piece?.document,
    piece,
    standing: standingOf(nowIndex),
    options,
    change,
    guest: state.guest,
    onStanding: (name, standing) => (press(standingOf(nowIndex), standing), setDay((now) => ({ ...now, standings: { ...now.standings, [name]: standing } })), setLog((n) => n + 1)),
    next: () => nextItem(),
    nextLabel: nowIndex + 1 < items.length ? 'Next item' : 'Done for today',
    before: nowIndex > 0 ? () => goItem(nowIndex - 1) : null,
  });
  const sitting = useSitting(dayName, keys[nowIndex] ?? '', practice.phase === 'sounding');
  useNews(['log'], async () => {
    setLog((n) => n + 1);
    if (!day) return;
    const answer = await get('/api/standings', { document: day.document }).catch(() => null);
    if (answer) setDay((now) => now && { ...now, standings: answer.standings });
  }, { everySeconds: 1 });
  useEffect(() => {
    document.title = 'Today · shedbook';
  }, []);
  useStand(practice.phase === 'sounding', '.prog .now');

  const minutesOf = (one, i) => (one?.minutes ?? 0) + (sitting.longer[keys[i]] ?? 0);
  const total = items.reduce((sum, one, i) => sum + minutesOf(one, i), 0) || picks.minutes;
  const spent = Object.values(sitting.seconds).reduce((sum, seconds) => sum + seconds, 0) / 60;
  const leftHere = item ? Math.max(0, Math.ceil(minutesOf(item, nowIndex) - (sitting.seconds[keys[nowIndex]] ?? 0) / 60)) : 0;
  const setPick = (name, value) => {
    remember({ minutes: 'today.minutes', tunes: 'today.tune' }[name] ?? `pick.${name}`, value);
    setPicks((now) => ({ ...now, [name]: value }));
  };
  const stopHere = () => {
    practice.hearing.stop();
    sitting.hold();
    setStopped(true);
    tell('Stopped for today. All ticks are in the log.');
  };
  const another = () => {
    remember(`plan.${dayName}`, turn + 1);
    setTurn(turn + 1);
    goValues({ item: null });
  };
  // What is over and has no place in the plan that is shown.
  const before = Object.entries(sitting.over).filter(([key, one]) => one.name && !keys.includes(key)).map(([, one]) => `${one.name}${one.notYet ? ' (not yet)' : ''}`);
  const [printed, setPrinted] = useState(null);
  const print = async () => {
    try {
      await send('POST', '/api/paper', { make: 'today', minutes: picks.minutes, instrument: picks.instrument || null, level: Number(picks.level) || null, tunes: picks.tunes ? [picks.tunes] : [], as: 'pdf', paper: 'a4' });
      setPrinted('It is being made; it lies under Paper when it is ready.');
    } catch (problem) {
      setPrinted(problem.message);
    }
  };

  const rest = item && isRest(item);
  // At the end of an item the right foot leads on; one may stay.
  const feet = practice.feet;
  const timeUp = piece && leftHere === 0 && practice.phase !== 'sounding';
  const shownPractice = { ...practice, feet: { left: feet.left, right: timeUp ? { label: nowIndex + 1 < items.length ? 'Next item' : 'Done for today', act: nextItem } : feet.right } };
  const instrumentName = day?.instrument?.name ?? '';
  let number = 0;
  return html`<main id="sheet" class="desk p-today"><div class="two">
      <section class="sheet" aria-label="Today's plan">
        <div class="title"><h1>Today</h1><p class="it">${longDay(dayName)}${instrumentName && `, ${instrumentName}`}</p></div>
        <div class="under">
          <p class="clock"><b>${Math.floor(spent)}</b> of ${total} minutes ${piece && html`<button class="b q" onClick=${sitting.runs ? sitting.hold : sitting.goOn}>${sitting.runs ? 'Hold the clock' : 'Let the clock go on'}</button>`}</p>
          <span class="grp">
            <${Pick} label="Time" value=${picks.minutes} options=${kMinutes.map((one) => ({ value: one, label: `${one} minutes` }))} onChange=${(value) => setPick('minutes', Number(value))} />
            <${Pick} label="Instrument" value=${picks.instrument} options=${[{ value: '', label: 'as last time' }, ...words.instruments.map((one) => ({ value: one.id, label: one.name }))]} onChange=${(value) => setPick('instrument', value)} />
            <${Pick} label="Tune" value=${picks.tunes} options=${[{ value: '', label: 'none' }, ...tunes.filter((one) => !one.slip).map((one) => ({ value: one.name, label: one.title || one.name }))]} onChange=${(value) => setPick('tunes', value)} />
            <${Pick} label="Level" value=${picks.level} options=${words.levels.map((one) => String(one.level))} onChange=${(value) => setPick('level', value)} />
          </span>
        </div>
        <${LevelWords} levels=${words.levels} level=${picks.level} />
        ${!known && html`<div class="none"><p>Tell shedbook what you play: choose your instrument and the minutes above, and the day is laid out.</p></div>`}
        ${fault && html`<${FaultLine} fault=${fault} />`}
        ${items.length > 0 && html`<${ClockLine} items=${items} minutesOf=${minutesOf} now=${nowIndex} stateOf=${stateOf} spent=${spent} total=${total} />`}
        ${day && !items.length && html`<p class="line">Nothing is due. Play what you like, or take one thing from Practise.</p>`}
        <ol class="prog">
          ${items.map((one, i) => {
            if (!isRest(one)) number += 1;
            const now = i === nowIndex && !stopped;
            return html`<${Item} key=${keys[i]} item=${one} read=${isRest(one) ? '' : readOf(one)} index=${{ number }} now=${now} over=${stateOf(i)} minutes=${minutesOf(one, i)} open=${now && !isRest(one)} choose=${() => (setStopped(false), goItem(i))}>
              <div class="open">
                ${piece && html`<${DrillMusic} key=${practice.tag} piece=${piece} music=${music} tag=${practice.tag} larger=${options.larger} hide=${options.hide} loop=${options.loop} bars=${practice.bars} loopBars=${practice.loopBars} onWhere=${setWhere} />
                <${Boxes} piece=${piece} standing=${standingOf(i)} tick=${practice.tick} disabled=${state.guest} />`}
              </div>
            <//>`;
          })}
        </ol>
        ${before.length > 0 && html`<p class="line">Played before, today: ${pretty(before.join('; '))}.</p>`}
        ${stopped && html`<p class="line">Stopped for today. All ticks are in the log. <button class="b q" onClick=${() => setStopped(false)}>Go on</button></p>`}
        <div class="acts end">
          ${!state.guest && html`<button class="b" onClick=${print}>Print today</button>`}
          <button class="b q" onClick=${another}>Another plan for today</button>
          <button class="b q" onClick=${stopHere}>Stop here for today</button>
          ${printed && html`<p class="line" role="status">${printed}</p>`}
        </div>
        ${day?.caution && html`<p class="quiet">${day.caution}</p>`}
      </section>
      <aside class="margin" aria-label="What adds up">
        <${Progress} instrument=${day?.instrument} semitones=${words.instruments.find((one) => one.id === day?.instrument?.id)?.sounds_semitones ?? 0} scaleNames=${scaleNames} titles=${titles} log=${log} item=${item} piece=${piece} />
        ${day?.waiting > 0 && html`<section><h2>What waits</h2><p>${plural(day.waiting, 'item')} more, for other days.</p></section>`}
        ${day?.notes?.length > 0 && html`<section><h2>Notes</h2>${day.notes.map((note) => html`<p class="quiet">${pretty(note)}</p>`)}</section>`}
        <section><p class="quiet">Missed days cost nothing: what is due waits and comes in small lots.</p></section>
      </aside>
    </div></main>
    ${piece && !rest ? html`<${PracticeFoot} practice=${shownPractice} options=${options} change=${change} where=${where} standing=${standingOf(nowIndex)} goal=${piece.goal} guest=${state.guest} piece=${piece} note=${`${leftHere} min left in this item`} />`
      : html`<${Foot} left=${rest ? { label: 'Longer by a minute', act: () => sitting.lengthen(keys[nowIndex]) } : { status: 'Today', note: '' }} right=${rest && { label: 'Go on', act: nextItem }} />`}`;
}
