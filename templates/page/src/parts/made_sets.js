// The books of a class, a set of each kind: [{ as, kind, job }] where `job` is its last.
import { html, useState } from '../html.js';
import { isOpen } from '../jobs.js';
import { Box, Progress } from './controls.js';
import { stateWords } from './job_rows.js';
import { plural } from './words.js';

/** How far a student's books are, by the rows of the class jobs: one of each kind. */
export function madeWords(who, sets) {
  return sets.map(({ kind, job }) => {
    const row = job.rows?.find((one) => one.who === who);
    if (!row) return isOpen(job) ? html`<span>${kind}: waits</span> ` : '';
    if (row.state !== 'ready' && !row.file) return html`<span>${kind}: ${row.words ?? row.state}</span> `;
    const file = job.files?.find((one) => one.name === row.file || one.name.endsWith(`/${row.file}`));
    return file ? html`<a href=${file.url} download=${file.name}>${kind}</a>` : html`<span>${kind}: ready</span> `;
  });
}

// All files of one kind, or how far they are.
function MadeSet({ kind, job, names, stop }) {
  const files = job.files ?? [];
  const inRows = new Set((job.rows ?? []).filter((row) => names.includes(row.who)).map((row) => row.file));
  const others = files.filter((file) => !inRows.has(file.name)); // a score, and books of those who left the list
  return html`<p class="sum" role="status"><span>${kind}: ${job.state === 'ready' ? `${plural(files.length, 'file')} ready` : stateWords(job)}</span>
      ${isOpen(job) && html`<${Progress} done=${job.done} steps=${job.steps} label="Books of the class" /><button class="b q" onClick=${() => stop(job.id)}>Stop</button>`}</p>
    ${job.error && html`<p class="wrong" role="alert">${job.error}</p>`}
    ${!isOpen(job) && others.length > 0 && html`<ul class="jobs files">${others.map((file) => html`<li><a class="dl" href=${file.url} download=${file.name}>Download ${file.name}</a></li>`)}</ul>`}`;
}

// One zip of the kinds that are asked for; sets of another tune than that of the newest do not go with it.
function AllInOne({ sets }) {
  const [left, leave] = useState([]); // kinds that are not to be in it
  const newest = sets.reduce((one, two) => (Number(two.job.id) > Number(one.job.id) ? two : one));
  const fitting = sets.filter((set) => set.job.pack === newest.job.pack);
  const chosen = fitting.filter((set) => !left.includes(set.as));
  return html`<div class="sum" role="group" aria-label="All books in one file"><span>All in one file:</span>
    ${fitting.length > 1 && fitting.map(({ as, kind }) => html`<${Box} key=${as} label=${kind} checked=${!left.includes(as)} onChange=${(on) => leave(on ? left.filter((one) => one !== as) : [...left, as])} />`)}
    ${chosen.length > 0 && html`<a class="dl" href=${`/api/paper/zip?jobs=${chosen.map((set) => set.job.id).join(',')}`} download=${`${newest.job.pack}.zip`}>Download ${newest.job.pack}.zip</a>`}
  </div>`;
}

/** names: of the students whose rows have links to their own books */
export function MadeSets({ sets, names, stop }) {
  const ready = sets.filter(({ job }) => job.state === 'ready' && job.files?.length > 0);
  return html`${sets.map((set) => html`<${MadeSet} key=${set.as} ...${set} names=${names} stop=${stop} />`)}
    ${ready.length > 0 && html`<${AllInOne} sets=${ready} />`}`;
}
