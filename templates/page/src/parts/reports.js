// What a teacher asks first of each student: how much this week, when last, how far the items are.
import { html, useEffect, useState } from '../html.js';
import { get } from '../net.js';
import { useNews } from '../news.js';
import { plural } from './words.js';

const kStates = ['new', 'slow', 'at tempo', 'from memory', 'fluent'];
const longDay = (day) => new Date(`${day}T12:00:00`).toLocaleDateString('en-GB', { weekday: 'short', day: 'numeric', month: 'short' });
const week = (student) => (student.days_this_week ? `${student.minutes_this_week} min on ${plural(student.days_this_week, 'day')}` : 'nothing');

/** Of a roster without slips; asked again when it or the log changes (`revision`: of the roster; empty while it is being saved). */
export function Reports({ name, revision }) {
  const [students, set] = useState([]);
  const ask = () =>
    get(`/api/class/${encodeURIComponent(name)}/today`).then(
      (answer) => set(answer.students),
      () => set([]),
    );
  useEffect(() => {
    if (revision) ask();
  }, [name, revision]);
  useNews(['log'], ask);
  if (!students.length) return null;
  return html`<section class="reports"><h2>Reports</h2><p class="quiet">From the log of this machine: ticks that were made here or taken in.</p>
    <table class="states"><caption class="vh">What each student played in the last seven days, and how far the items are</caption>
      <thead><tr><th scope="col">Name</th><th scope="col">Last seven days</th><th scope="col">Last entry</th>${kStates.slice(1).map((state) => html`<th scope="col">${state}</th>`)}</tr></thead>
      <tbody>${students.map((student) => html`<tr><th scope="row">${student.name}</th><td data-l="Last seven days">${week(student)}</td><td data-l="Last entry">${student.last ? longDay(student.last) : 'none yet'}</td>
        ${kStates.slice(1).map((state) => html`<td data-l=${state}>${student.items?.[state] ?? 0}</td>`)}</tr>`)}</tbody></table>
  </section>`;
}
