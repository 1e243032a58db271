// Class: the roster as a table, a book for each student, what comes back from them.
import { html, useEffect, useMemo, useRef, useState } from '../html.js';
import { classPath, go } from '../address.js';
import { recall, remember } from '../device.js';
import { isOpen, useJobs } from '../jobs.js';
import { get, send, sendFile } from '../net.js';
import { useShared } from '../shared.js';
import { tell } from '../voice.js';
import { FaultLine, Pick } from '../parts/controls.js';
import { Foot } from '../parts/foot.js';
import { MadeSets, madeWords } from '../parts/made_sets.js';
import { Reports } from '../parts/reports.js';
import { plural } from '../parts/words.js';

const kColumns = ['name', 'instrument', 'level', 'range', 'goal', 'plan', 'fingerings'];
const kHeads = { name: 'Name', instrument: 'Instrument', level: 'Level', range: 'Range', goal: 'Goal', plan: 'Plan', fingerings: 'Fingerings' };
const kEmpty = { range: 'as level', goal: 'as the tune', plan: 'none', fingerings: 'none', level: '' };
/** A class as it is spoken of; its file has hyphens. */
const classTitle = (name) => capital(name.replaceAll('-', ' '));
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
const kSaveAfter = 600;
const kFirstLevel = '3';
const kNoScore = 'none';
const kForms = [
  { value: 'pdf', label: 'PDF', kind: 'Book PDF' },
  { value: 'mxl', label: '.mxl', kind: 'Book .mxl' },
  { value: 'html', label: 'phone pages', kind: 'Phone page' },
];

// Those of the levels first, then all of them by family.
function drillGroups({ drills, levels }) {
  const choices = (rows) => rows.map((one) => ({ value: one.id, label: one.title ?? one.id }));
  const usual = new Set(levels.flatMap((one) => one.drills ?? []));
  const groups = new Map();
  for (const one of drills.filter(({ id }) => !usual.has(id))) {
    const family = capital(one.family);
    groups.set(family, [...(groups.get(family) ?? []), one]);
  }
  return [{ group: 'Usual', options: choices(drills.filter(({ id }) => usual.has(id))) }, ...[...groups].map(([group, rows]) => ({ group, options: choices(rows) }))];
}

// Every roster is shown with the same columns, whatever order its file has; columns of other names are kept behind.
function widen({ columns, rows, editable }) {
  const all = [...kColumns, ...columns.filter((one) => !kColumns.includes(one))];
  return { editable, columns: all, rows: rows.map((row) => all.map((name) => row[columns.indexOf(name)] ?? '')) };
}

/** A roster that is saved after each change; the undo goes back over saves. */
function useRoster(name) {
  const [table, set] = useState(null); // { columns, rows }
  const [slips, setSlips] = useState([]);
  const [known, setKnown] = useState({});
  const [fault, setFault] = useState(null);
  const [saved, setSaved] = useState('saved');
  const before = useRef([]);
  const revision = useRef(null);
  const timer = useRef(null);
  const path = `/api/class/${encodeURIComponent(name)}`;
  const take = (answer) => {
    revision.current = answer.revision;
    setSlips(answer.slips ?? []);
    setKnown(answer.known ?? {});
  };
  useEffect(() => {
    get(path).then(
      (answer) => (take(answer), set(widen(answer))),
      (problem) => setFault(problem),
    );
    return () => clearTimeout(timer.current);
  }, [name]);
  const save = async (next) => {
    try {
      take(await send('PUT', path, next, { revision: revision.current }));
      setSaved('saved');
      setFault(null);
    } catch (problem) {
      setSaved('fails');
      setFault(problem.status === 409 ? new Error('This roster was changed outside. Open it anew to see how it reads now.') : problem);
    }
  };
  const change = (next, { undoing = false } = {}) => {
    if (!undoing) before.current.push(table);
    set(next);
    setSaved('waits');
    clearTimeout(timer.current);
    timer.current = setTimeout(() => save(next), kSaveAfter);
  };
  return {
    table,
    slips,
    known,
    fault,
    saved,
    setCell: (row, column, value) => change({ ...table, rows: table.rows.map((cells, i) => (i === row ? cells.map((cell, j) => (table.columns[j] === column ? value : cell)) : cells)) }),
    setAll: (column, value) => change({ ...table, rows: table.rows.map((cells) => cells.map((cell, j) => (table.columns[j] === column ? value : cell))) }),
    add: (students) => change({ ...table, rows: [...table.rows, ...students.map((student) => table.columns.map((column) => student[column] ?? ''))] }),
    remove: (row) => change({ ...table, rows: table.rows.filter((_, i) => i !== row) }),
    undo: () => before.current.length && change(before.current.pop(), { undoing: true }),
    canUndo: () => before.current.length > 0,
    fail: setFault,
    clearFault: () => setFault(null),
  };
}

function Cell({ column, value, options, slip, label, change, disabled }) {
  const bad = Boolean(slip);
  if (options) {
    const has = options.some((one) => one.value === value);
    return html`<select class=${`cell-in${bad ? ' slipmark' : ''}`} aria-label=${label} aria-invalid=${bad} disabled=${disabled} onChange=${(event) => change(event.target.value)}>
      ${!has && html`<option value=${value} selected>${value || kEmpty[column] || 'choose'}</option>`}
      ${options.map((one) => html`<option value=${one.value} selected=${one.value === value}>${one.label}</option>`)}
    </select>`;
  }
  return html`<input class=${`cell-in${bad ? ' slipmark' : ''}`} aria-label=${label} aria-invalid=${bad} disabled=${disabled} value=${value} placeholder=${kEmpty[column] ?? ''} onChange=${(event) => change(event.target.value.trim())} />`;
}

// Enter goes on to the row below, as in any table; arrows move where the field does not need them.
function moveInTable(event) {
  const cell = event.target.closest('td, th');
  if (!cell || event.target.tagName === 'SELECT') return;
  const way = { Enter: 1, ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (!way) return;
  const row = cell.parentElement;
  const rows = [...row.parentElement.children].filter((one) => one.dataset.row !== undefined);
  const next = rows[rows.indexOf(row) + way];
  const field = next?.children[cell.cellIndex]?.querySelector('input, select');
  if (field) {
    event.preventDefault();
    field.focus();
    field.select?.();
  }
}

function Student({ index, cells, columns, slips, lists, roster, made, guest }) {
  const name = cells[0] || `student ${index + 1}`;
  const slipOf = (column) => slips.find((slip) => slip.column === column);
  const field = (column) => html`<${Cell} column=${column} value=${cells[columns.indexOf(column)]} options=${lists[column]} slip=${slipOf(column)} disabled=${guest} label=${`${kHeads[column] ?? capital(column)} of ${name}`} change=${(value) => roster.setCell(index, column, value)} />`;
  return html`<tr class=${slips.length ? 'fault' : ''} data-row=${index}>
      <th scope="row" data-l="Name">${field('name')}</th>
      ${kColumns.slice(1).map((column) => html`<td data-l=${kHeads[column]} class=${cells[columns.indexOf(column)] === '' && kEmpty[column] ? 'nil' : ''}>${field(column)}</td>`)}
      <td data-l="Book" class="bk">${slips.length > 0 ? html`<span class="tag">slip</span> no book yet` : made}</td>
      <td>${!guest && html`<button class="b q" onClick=${() => roster.remove(index)} aria-label=${`Remove ${name}`}>Remove</button>`}</td>
    </tr>
    ${slips.map((slip) => html`<tr class="msg"><td colspan="9"><span class="tag">slip</span> ${slip.message} ${slip.hint && !slip.instead?.length && html`<span class="quiet">${slip.hint}</span>`}
      ${(slip.instead ?? []).slice(0, 3).map((one) => html`<button class="b" onClick=${() => roster.setCell(index, slip.column, one.text)}>Write ${one.text}</button> `)}
      <span class="quiet">The other books are made meanwhile.</span></td></tr>`)}`;
}

// In words for the foot line: "Making books: 2 of 3".
const makingWords = (job) => (job.steps > 1 ? `Making books: ${Math.max(1, job.done)} of ${job.steps}` : 'Making books');

// Names, with what they all play: a name alone would be a slip. `last`: the row above them.
function AddNames({ add, close, lists, last }) {
  const [text, set] = useState('');
  const [instrument, setInstrument] = useState(last?.instrument ?? recall('pick.instrument', ''));
  const [level, setLevel] = useState(last?.level || kFirstLevel);
  const field = useRef(null);
  useEffect(() => field.current.focus(), []);
  const names = text.split('\n').map((one) => one.trim()).filter(Boolean);
  const take = () => {
    add(names.map((name) => ({ name, instrument, level })));
    close();
  };
  return html`<div class="rename"><label>Names, one a line <textarea class="field" rows="3" ref=${field} value=${text} onInput=${(event) => set(event.target.value)}></textarea></label>
    <${Pick} label="who all play" value=${instrument} options=${[...(instrument ? [] : [{ value: '', label: 'choose' }]), ...lists.instrument]} onChange=${setInstrument} />
    <${Pick} label="at level" value=${level} options=${lists.level} onChange=${setLevel} />
    <button class="b main" disabled=${!names.length || !instrument} onClick=${take}>Add</button><button class="b q" onClick=${close}>Leave it</button></div>`;
}

/** One choice for every row; each can be changed in its own afterwards. */
function ForAll({ lists, setAll, rows, columns }) {
  const shared = (column) => {
    const values = new Set(rows.map((cells) => cells[columns.indexOf(column)]));
    return values.size === 1 ? [...values][0] : '';
  };
  const pick = (column) => html`<${Pick} label=${kHeads[column].toLowerCase()} value=${shared(column)} options=${[...(shared(column) ? [] : [{ value: '', label: 'as below' }]), ...lists[column]]} onChange=${(value) => value && setAll(column, value)} />`;
  return html`<span class="grp" role="group" aria-label="For all students"><span class="quiet">For all:</span>${pick('instrument')}${pick('level')}</span>`;
}

function Ticks() {
  const chooser = useRef(null);
  const [lines, set] = useState([]);
  const take = async (files) => {
    for (const file of files) {
      try {
        const { added, known } = await sendFile('/api/log/import', file);
        set((now) => [...now, `${file.name}: ${plural(added, 'tick')} taken in${known ? `, ${known} were there already` : ''}`]);
      } catch (problem) {
        set((now) => [...now, `${file.name}: not read. ${problem.said?.slips?.[0]?.message ?? problem.message}`]);
      }
    }
  };
  return html`<div><h2>Ticks that come back</h2><p>A student sends a file of ticks; take it in and it goes into the log.</p>
    <button class="b" onClick=${() => chooser.current.click()}>Take in ticks …</button>
    <input ref=${chooser} class="vh" type="file" multiple tabindex="-1" aria-hidden="true" aria-label="Files of ticks" onChange=${(event) => { take([...event.target.files]); event.target.value = ''; }} />
    <div role="status">${lines.map((line) => html`<p class="quiet">${line}</p>`)}</div></div>`;
}

function Forget({ name, students, done }) {
  const [student, choose] = useState(students[0] ?? '');
  const [typed, type] = useState('');
  const [said, say] = useState('');
  const forget = async () => {
    try {
      const { entries } = await send('POST', `/api/class/${encodeURIComponent(name)}/forget`, { student, typed });
      say(`${student}: ${plural(entries, 'entry', 'entries')} forgotten`);
      type('');
      done?.();
    } catch (problem) {
      say(problem.message);
    }
  };
  return html`<details class="help"><summary>Forget what a student has in the log</summary>
    <p class="line"><${Pick} label="Student" value=${student} options=${students} onChange=${choose} />
    <label class="pick">Type the name to forget it <input class="field" value=${typed} onInput=${(event) => type(event.target.value)} /></label>
    <button class="b" disabled=${!student || typed !== student} onClick=${forget}>Forget</button></p><p role="status" class="quiet">${said}</p></details>`;
}

function Roster({ name, rosters }) {
  const { words, state } = useShared();
  const roster = useRoster(name);
  const work = useJobs();
  const [tunes, setTunes] = useState([]);
  const [tune, setTune] = useState(() => recall('class.tune', recall('stand')?.name ?? ''));
  const [as, setAs] = useState(state.has.pages === false ? 'mxl' : 'pdf');
  const [score, setScore] = useState('');
  const [adding, setAdding] = useState(false);
  useEffect(() => {
    document.title = `Class: ${classTitle(name)} · shedbook`;
    remember('roster', name);
    get('/api/tunes').then(({ tunes: rows }) => {
      setTunes(rows);
      setTune((now) => (rows.some((row) => row.name === now) ? now : (rows[0]?.name ?? '')));
    }, () => {});
  }, [name]);
  const lists = useMemo(() => ({
    instrument: words.instruments.map((one) => ({ value: one.id, label: one.name })),
    level: words.levels.map((one) => ({ value: String(one.level), label: String(one.level) })),
    plan: [{ value: '', label: 'none' }, ...words.plans.map((one) => ({ value: one.id, label: one.title }))],
    fingerings: [{ value: '', label: 'none' }, { value: 'scales', label: 'scales' }, { value: 'all', label: 'all' }],
  }), [words]);
  const scores = useMemo(() => [{ value: '', label: 'a drill that all can play' }, { value: kNoScore, label: 'none' }, ...drillGroups(words)], [words]);
  const { table, slips } = roster;
  const jobs = work.jobs.filter((one) => one.make === 'class' && one.request?.roster === name);
  // The last of each kind.
  const sets = kForms.map(({ value, kind }) => ({ as: value, kind, job: jobs.find((one) => one.request.as === value) })).filter((set) => set.job);
  const making = jobs.findLast(isOpen); // the first that was asked for
  const asking = useRef(false);
  const busy = sets.some((set) => set.as === as && isOpen(set.job));
  const make = async () => {
    if (busy || asking.current) return;
    asking.current = true;
    await work.make({ make: 'class', roster: name, tune, as, ...(as === 'html' ? {} : score === kNoScore ? { no_score: true } : { score }) });
    asking.current = false;
  };
  // A list in TOML has comments and lines for all: it is shown, and a table of it is a file beside it.
  const guest = state.guest || table?.editable === false;
  const makeTable = async () => {
    try {
      const made = await send('POST', '/api/class', { name: `${name} table`, columns: table.columns, rows: table.rows });
      go(classPath(made.name));
    } catch (problem) {
      roster.fail(problem);
    }
  };
  const students = table?.rows.map((row) => row[0]).filter(Boolean) ?? [];
  if (!table) return html`<main id="sheet" class="desk p-class" aria-busy="true">${roster.fault && html`<${FaultLine} fault=${roster.fault} />`}</main>`;
  return html`<main id="sheet" class="desk p-class">
      ${roster.fault && html`<${FaultLine} fault=${roster.fault} again=${() => location.reload()} close=${roster.clearFault} />`}
      ${work.fault && html`<${FaultLine} fault=${work.fault} close=${work.clearFault} />`}
      <section class="sheet" aria-label=${`Class: ${classTitle(name)}`}>
        <div class="title"><h1>${classTitle(name)}</h1><p class="it">${plural(table.rows.length, 'student')}${rosters.length > 1 ? html`, <${Pick} label="another class" value=${name} options=${rosters.map((one) => ({ value: one.name, label: classTitle(one.name) }))} onChange=${(other) => go(classPath(other))} />` : ''}</p></div>
        <div class="under"><span class="grp">
            <${Pick} label="Tune" value=${tune} options=${tunes.map((one) => ({ value: one.name, label: one.title || one.name }))} onChange=${(value) => (remember('class.tune', value), setTune(value))} />
            <${Pick} label="Books as" value=${as} options=${kForms.filter((form) => form.value !== 'pdf' || state.has.pages !== false)} onChange=${setAs} />
            ${as !== 'html' && html`<${Pick} label="Teacher's score" value=${score} options=${scores} onChange=${setScore} />`}
          </span>
          ${table.editable === false && !state.guest && html`<span class="grp"><button class="b" onClick=${makeTable}>Make a table of it</button><button class="b main" disabled=${!tune || busy} onClick=${make}>Make all books</button></span>`}
          ${!guest && html`<span class="grp"><button class="b q" disabled=${!roster.canUndo()} onClick=${roster.undo}>Undo</button><button class="b" onClick=${() => setAdding(true)}>Add students</button><button class="b main" disabled=${!tune || busy || !table.rows.length} onClick=${make}>Make all books</button></span>`}
        </div>
        ${table.editable === false && html`<p class="quiet">This list is a text of its own: it is changed in an editor. A table of it is changed here.</p>`}
        ${(adding || !table.rows.length) && !guest && html`<${AddNames} add=${roster.add} close=${() => setAdding(false)} lists=${lists} last=${table.rows.length ? { instrument: table.rows.at(-1)[1], level: table.rows.at(-1)[2] } : null} />`}
        ${!guest && table.rows.length > 1 && html`<${ForAll} lists=${lists} setAll=${roster.setAll} rows=${table.rows} columns=${table.columns} />`}
        ${table.rows.length > 0 && html`<table class="roster" onKeyDown=${moveInTable}><caption class="vh">Students, what each gets, and how far the books are</caption>
          <thead><tr>${kColumns.map((column) => html`<th scope="col">${kHeads[column]}</th>`)}<th scope="col">Book</th><th scope="col"><span class="vh">Remove</span></th></tr></thead>
          <tbody>${table.rows.map((cells, i) => html`<${Student} key=${i} index=${i} cells=${cells} columns=${table.columns} slips=${slips.filter((slip) => slip.row === i)} lists=${lists} roster=${roster} guest=${guest}
            made=${madeWords(cells[0], sets)} />`)}</tbody></table>`}
        <${MadeSets} sets=${sets} names=${table.rows.map((cells) => cells[0])} stop=${work.stop} />
        ${!slips.length && table.rows.length > 0 && html`<${Reports} name=${name} revision=${roster.saved === 'saved' ? JSON.stringify(table.rows) : ''} tune=${tunes.find((one) => one.name === tune)} />`}
        <div class="what3">
          <div><h2>Phone pages</h2><p>A file for each student: the drills, their sound, boxes to tick. It opens without a network and without shedbook. Choose “phone pages” as books above.</p></div>
          <${Ticks} />
          <div><h2>What a student asks for</h2><p>What leaves the class leaves only the list. The log keeps what was played.</p>${students.length > 0 && !state.guest && html`<${Forget} name=${name} students=${students} />`}</div>
        </div>
      </section>
    </main>
    <${Foot} left=${making ? { status: makingWords(making), note: plural(table.rows.length, 'student') } : { status: { saved: 'Saved', waits: 'Not saved yet', fails: 'Not saved' }[roster.saved], note: slips.length && table.rows.length ? plural(slips.length, 'slip') : plural(table.rows.length, 'student') }} right=${tune && !state.guest && !busy && table.rows.length > 0 && { small: 'next', label: 'Make all books', act: make }} />`;
}

function NewRoster({ rosters }) {
  const { state } = useShared();
  const [name, set] = useState('');
  const [fault, setFault] = useState(null);
  const make = async (event) => {
    event.preventDefault();
    try {
      const made = await send('POST', '/api/class', { name });
      tell(`${made.name} begun`);
      go(classPath(made.name));
    } catch (problem) {
      setFault(problem);
    }
  };
  return html`<main id="sheet" class="desk p-class"><section class="sheet" aria-label="Classes">
      <div class="title"><h1>Class</h1></div>
      ${!rosters.length && html`<p class="line">No class lies in this folder yet. A class is a list of names, each with an instrument and a level.</p>`}
      <ul class="tunes">${rosters.map((one) => html`<li><div class="tl"><a class="tt" href=${classPath(one.name)}><b>${classTitle(one.name)}</b></a><span>${plural(one.rows, 'student')}</span><span class=${one.slips ? 'ts slipped' : ''}>${one.slips ? plural(one.slips, 'slip') : ''}</span></div></li>`)}</ul>
      ${!state.guest && html`<form class="rename" onSubmit=${make}><label>Name of a class <input class="field" value=${name} onInput=${(event) => set(event.target.value)} required /></label><button class="b main">Begin it</button>
        ${fault && html`<p class="wrong" role="alert">${fault.message}</p>`}</form>`}
    </section></main>
    <${Foot} left=${{ status: plural(rosters.length, 'class', 'classes'), note: '' }} right=${rosters[0] && { small: 'next', label: `Open ${classTitle(rosters[0].name)}`, act: () => go(classPath(rosters[0].name)) }} />`;
}

export function Class() {
  const { at } = useShared();
  const [rosters, set] = useState(null);
  const [fault, setFault] = useState(null);
  useEffect(() => {
    get('/api/class').then((answer) => set(answer.rosters), setFault);
    document.title = 'Class · shedbook';
  }, [at.roster]);
  if (fault) return html`<main id="sheet" class="desk p-class"><${FaultLine} fault=${fault} /></main>`;
  if (!rosters) return html`<main id="sheet" class="desk p-class" aria-busy="true"></main>`;
  if (!at.roster) return html`<${NewRoster} rosters=${rosters} />`;
  return html`<${Roster} key=${at.roster} name=${at.roster} rosters=${rosters} />`;
}
