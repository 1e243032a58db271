// What was made and what is being made, as a list: words first, the bar second.
import { html } from '../html.js';
import { isOpen } from '../jobs.js';
import { Progress } from './controls.js';
import { plural } from './words.js';

const kWords = { waits: 'waits', ready: 'ready', failed: 'not made', stopped: 'stopped' };
const size = (bytes) => (bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`);
const kMakes = { book: 'Book', sheet: 'Sheet', lead: 'Lead sheet', class: 'Class set', today: 'Today' };

export function stateWords(job) {
  if (job.state === 'making') return job.words || 'being made';
  if (job.state === 'waits') return job.place ? `waits as number ${job.place}` : 'waits';
  return kWords[job.state] ?? job.state;
}

export function JobRow({ job, stop, forget, again }) {
  const when = new Date(job.began).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  return html`<li class="job">
    <div class="jl"><b>${kMakes[job.make] ?? job.make}</b> <span class="from">${job.of}</span> <span class="quiet">${when}</span></div>
    <div class="js"><span class="mk">${stateWords(job)}</span> ${job.state === 'making' && html`<${Progress} done=${job.done} steps=${job.steps} label=${`${job.of}: ${stateWords(job)}`} />`}</div>
    <div class="jf">
      ${(job.files ?? []).map((file) => html`<a class="dl" href=${file.url} download=${file.name}>Download ${file.name}</a> <span class="quiet">${size(file.bytes)}</span>${' '}`)}
      ${isOpen(job) ? html`<button class="b q" onClick=${() => stop(job.id)}>Stop</button>`
        : html`<button class="b q" onClick=${() => again(job.request)}>Make again</button><button class="b q" onClick=${() => forget(job.id)} aria-label=${`Take off the list: ${job.of}`}>Take off the list</button>`}
    </div>
    ${job.error && html`<p class="wrong" role="alert">${job.error}</p>`}
    ${job.says?.length > 0 && html`<details class="help jn"><summary>${plural(job.says.length, 'note')}</summary><ul>${job.says.map((line) => html`<li>${line}</li>`)}</ul></details>`}
  </li>`;
}
