// What a teacher asks first of each student: how much this week, when last, how far the items are; and then what they are.
import { html, useEffect, useMemo, useState } from '../html.js';
import { get } from '../net.js';
import { useNews } from '../news.js';
import { useShared } from '../shared.js';
import { plural, pretty } from './words.js';

const kStates = ['new', 'slow', 'at tempo', 'from memory', 'fluent'];
const longDay = (day) => new Date(`${day}T12:00:00`).toLocaleDateString('en-GB', { weekday: 'short', day: 'numeric', month: 'short' });
const week = (student) => (student.days_this_week ? `${student.minutes_this_week} min on ${plural(student.days_this_week, 'day')}` : 'nothing');

const isTicked = (drill) => drill.state !== 'new' && drill.clean_tempo;
const stateOf = (drill) => `${drill.state}${drill.clean_tempo ? `, ${drill.clean_tempo}` : ''}`;

/** All that a student has in the log, and how much of the tune's drills at his or her level that is. */
function Standing({ student, tune, log }) {
  const { words } = useShared();
  const titles = useMemo(() => new Map(words.drills.map((one) => [one.id, one.title])), [words]);
  const [all, setAll] = useState(null);
  const [ofTune, setOfTune] = useState(null);
  useEffect(() => {
    const who = { player: student.name, instrument: student.today.instrument, level: student.level };
    get('/api/progress', who).then(setAll, () => setAll({ rows: [] }));
    if (tune?.name) get('/api/progress', { ...who, tune: tune.name }).then(setOfTune, () => setOfTune(null));
  }, [student.name, tune?.name, log]);
  if (!all) return null;
  const offered = ofTune?.rows.flatMap((row) => row.drills) ?? [];
  return html`${offered.length > 0 && html`<p>${tune.title}: ${offered.filter(isTicked).length} of ${plural(offered.length, 'drill')} ticked</p>`}
    ${all.rows.length === 0 ? html`<p class="quiet">Nothing is in the log yet.</p>`
      : html`<dl class="told">${all.rows.map((row) => html`<div><dt>${pretty(row.name)}</dt><dd>${row.drills.map((drill) => html`<span class="cell">${titles.get(drill.work) ?? drill.work}: ${stateOf(drill)}</span>`)}</dd></div>`)}</dl>`}`;
}

/** Of a roster without slips, and the tune that its books are made of; asked again when it or the log changes (`revision`: of the roster; empty while it is being saved). */
export function Reports({ name, revision, tune }) {
  const [students, set] = useState([]);
  const [open, setOpen] = useState(null); // whose items are told
  const [log, setLog] = useState(0);
  const ask = () =>
    get(`/api/class/${encodeURIComponent(name)}/today`).then(
      (answer) => set(answer.students),
      () => set([]),
    );
  useEffect(() => {
    if (revision) ask();
  }, [name, revision]);
  useNews(['log'], () => (setLog((n) => n + 1), ask()));
  if (!students.length) return null;
  return html`<section class="reports"><h2>Reports</h2><p class="quiet">From the log of this machine: ticks that were made here or taken in. A name tells what they are.</p>
    <table class="states"><caption class="vh">What each student played in the last seven days, and how far the items are</caption>
      <thead><tr><th scope="col">Name</th><th scope="col">Last seven days</th><th scope="col">Last entry</th>${kStates.slice(1).map((state) => html`<th scope="col">${state}</th>`)}</tr></thead>
      <tbody>${students.map((student) => html`<tr><th scope="row"><button class="choose" aria-expanded=${open === student.name} onClick=${() => setOpen(open === student.name ? null : student.name)}>${student.name}</button></th><td data-l="Last seven days">${week(student)}</td><td data-l="Last entry">${student.last ? longDay(student.last) : 'none yet'}</td>
        ${kStates.slice(1).map((state) => html`<td data-l=${state}>${student.items?.[state] ?? 0}</td>`)}</tr>
        ${open === student.name && html`<tr class="msg"><td colspan="7"><${Standing} student=${student} tune=${tune} log=${log} /></td></tr>`}`)}</tbody></table>
  </section>`;
}
