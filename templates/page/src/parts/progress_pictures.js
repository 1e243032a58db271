// What adds up, drawn: scales by keys with strokes, tempos over days. Each is also given as a table or in words.
import { html } from '../html.js';
import { dashed, plural, pretty } from './words.js';

// Keys in fourths, with the pitch class of each.
const kKeys = [['C', 0], ['F', 5], ['B♭', 10], ['E♭', 3], ['A♭', 8], ['D♭', 1], ['G♭', 6], ['B', 11], ['E', 4], ['A', 9], ['D', 2], ['G', 7]];
const kMostPages = 12;
const kStates = ['new', 'slow', 'at tempo', 'from memory', 'fluent'];

// A scale is as far as the drill of it that is least far.
const levelOf = (row) => Math.min(...(row.drills?.length ? row.drills.map((drill) => Math.max(0, kStates.indexOf(drill.state))) : [0]));

function BoxOf({ level, x, y }) {
  const strokes = Math.min(3, level);
  return html`<rect x=${x} y=${y} width="15" height="15" fill=${level === 4 ? 'currentColor' : 'none'} stroke-width=".8" />
    ${level < 4 && Array.from({ length: strokes }, (_, i) => html`<path d=${`M${x + 5.1 - 2 * (strokes - 1) + 4 * i} ${y + 12.5}l4.8 -10`} stroke-width="1.7" />`)}`;
}

/** rows as /api/progress gives them; semitones: what the instrument sounds above what it reads. */
export function ScalesByKeys({ rows, scaleNames, semitones, instrument }) {
  const scales = rows.filter((row) => row.kind === 'scale' && row.root !== null);
  if (!scales.length) return null;
  const kinds = [...new Set(scales.map((row) => row.subject))];
  const read = (root) => (((root - semitones) % 12) + 12) % 12;
  const found = (kind, pitch) => scales.find((row) => row.subject === kind && read(row.root) === pitch);
  const height = 22 + 20 * kinds.length;
  return html`<section><h2>Scales by keys</h2><p class="quiet">as you read them, ${instrument}</p>
    <svg class="pic" viewBox=${`0 0 316 ${height}`} stroke="currentColor" role="img" aria-label="Scales by keys; the same as a table below">
      ${kKeys.map(([name], i) => html`<text x=${103 + 18.3 * i} y="13" text-anchor="middle" stroke="none">${name}</text>`)}
      ${kinds.map((kind, row) => html`<text x="0" y=${34 + 20 * row} stroke="none">${scaleNames.get(kind) ?? kind}</text>
        ${kKeys.map(([, pitch], i) => html`<${BoxOf} level=${found(kind, pitch) ? levelOf(found(kind, pitch)) : 0} x=${95.5 + 18.3 * i} y=${22 + 20 * row} />`)}`)}
    </svg>
    <${Legend} />
  </section>`;
}

const Legend = () => html`<p class="legend">${kStates.map((state, level) => html`<span><svg viewBox="0 0 17 17" stroke="currentColor" aria-hidden="true"><${BoxOf} level=${level} x=${1} y=${1} /></svg>${state}</span>`)}</p>`;

/** Units and lines of tunes, a box for each drill of their pages. titles: of drills, by their words */
export function PagesByDrills({ rows, titles, instrument }) {
  const pages = rows.filter((row) => row.kind !== 'scale' && row.drills?.length).slice(0, kMostPages);
  if (!pages.length) return null;
  const most = Math.max(...pages.map((row) => row.drills.length));
  const left = 316 - 20 * Math.min(most, 9);
  return html`<section class="pages"><h2>Units and their drills</h2><p class="quiet">a box for each drill, ${instrument}</p>
    <svg class="pic" viewBox=${`0 0 316 ${8 + 22 * pages.length}`} stroke="currentColor" role="img" aria-label="Units and their drills; the same as a table below">
      ${pages.map((row, i) => html`<text x="0" y=${16 + 22 * i} stroke="none">${shortName(row.name)}</text>
        ${row.drills.slice(0, 9).map((drill, j) => html`<g><title>${titles.get(drill.work) ?? drill.work}: ${drill.state}</title><${BoxOf} level=${Math.max(0, kStates.indexOf(drill.state))} x=${left + 20 * j} y=${4 + 22 * i} /></g>`)}`)}
    </svg><${Legend} />
  </section>`;
}

const shortDay = (day) => new Date(`${day}T12:00:00`).toLocaleDateString('en-GB', { day: 'numeric', month: 'short' });

/** Days across, beats a minute up; an open dot with the page, filled from memory; the thick line is the goal. */
// As it is read: the instrument stands above.
function shortName(name) {
  const read = dashed(name.replace(/ \(concert .*\)$/, ''));
  return read.length > 28 ? `${read.slice(0, 27)}…` : read;
}

export function TempoPicture({ name, entries, goal, boxes }) {
  const right = entries.filter((entry) => entry.tempo && entry.right > 0);
  if (right.length < 2) return null;
  const days = right.map((entry) => Date.parse(`${entry.day}T12:00:00`));
  const rungs = [...new Set([...(boxes ?? []), goal].filter(Boolean))].sort((a, b) => b - a);
  const low = Math.min(...right.map((entry) => entry.tempo), rungs.at(-1) ?? 400) - 8;
  const high = Math.max(...right.map((entry) => entry.tempo), goal ?? 0);
  const first = Math.min(...days);
  const span = Math.max(1, Math.max(...days) - first);
  const sameDay = Math.max(...days) === first;
  const x = (i) => (sameDay ? 44 + (258 * i) / (right.length - 1) : 44 + (258 * (days[i] - first)) / span);
  const y = (tempo) => 150 - (114 * (tempo - low)) / Math.max(1, high - low);
  // From the goal down, as many lines as have room for their numbers.
  const lines = rungs.reduce((kept, tempo) => (kept.length && y(tempo) - y(kept.at(-1)) < 14 ? kept : [...kept, tempo]), []);
  const last = right.at(-1);
  const words = `Tempo of ${name}: from ${right[0].tempo} on ${shortDay(right[0].day)} to ${last.tempo} on ${shortDay(last.day)}; goal ${goal}`;
  return html`<section><h2>${pretty(name)}</h2><p class="quiet">Open: with the page. Filled: from memory.</p>
    <svg class="pic" viewBox="0 0 324 176" stroke="currentColor" role="img" aria-label=${words}>
      ${lines.map((tempo) => html`<path d=${`M40 ${y(tempo)}H318`} stroke-width=${tempo === goal ? 2 : 0.7} /><text x="34" y=${y(tempo) + 4} text-anchor="end" stroke="none">${tempo}</text>`)}
      <path class="pen" fill="none" stroke-width="2" d=${right.map((entry, i) => `${i ? 'L' : 'M'}${x(i)} ${y(entry.tempo)}`).join('')} />
      ${right.map((entry, i) => html`<circle class="pen" cx=${x(i)} cy=${y(entry.tempo)} r="5" stroke-width="2" fill=${entry.from_memory ? 'currentColor' : 'var(--sheet)'} />`)}
      <text x="44" y="170" stroke="none">${shortDay(right[0].day)}</text>
      ${!sameDay && html`<text x="302" y="170" text-anchor="end" stroke="none">${shortDay(last.day)}</text>`}
    </svg>
    <p class="vh">${plural(right.length, 'time')} right</p></section>`;
}
