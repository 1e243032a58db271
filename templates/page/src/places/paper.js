// Paper: book, sheet and lead sheet of the tune on the stand as files, made in the background.
import { html, useEffect, useState } from '../html.js';
import { recall, remember } from '../device.js';
import { get } from '../net.js';
import { useJobs, isOpen } from '../jobs.js';
import { useShared } from '../shared.js';
import { FaultLine, LevelWords, Pick } from '../parts/controls.js';
import { Contents } from '../parts/contents.js';
import { Foot } from '../parts/foot.js';
import { JobRow } from '../parts/job_rows.js';
import { plural } from '../parts/words.js';
import { go, tunePath } from '../address.js';

const kForms = [
  { value: 'pdf', label: 'PDF' },
  { value: 'mxl', label: '.mxl' },
  { value: 'mid', label: 'MIDI' },
  { value: 'html', label: 'phone page' },
];
const kPapers = { a4: 'A4', letter: 'letter', tablet: 'tablet' };

// One thing to make: for whom, how, as what.
function Row({ name, about, fields, make, disabled, children }) {
  return html`<section class="make" aria-labelledby=${`make-${name}`}>
    <h2 id=${`make-${name}`}>${about.title}</h2><p class="quiet">${about.says}</p>
    <div class="picks open">${fields}</div>
    ${children}
    <div class="acts"><button class="b main" disabled=${disabled} onClick=${make} aria-label=${`Make the ${about.title.toLowerCase()}`}>Make</button></div>
  </section>`;
}

export function Paper() {
  const { at, words, state, stand, setStand } = useShared();
  const tune = at.tune;
  const [values, setValues] = useState(() => ({
    instrument: recall('pick.instrument', '') || 'piano',
    level: recall('pick.level', 3),
    plan: recall('pick.plan', ''),
    paper: recall('paper', 'a4'),
    as: 'pdf',
    topics: '',
  }));
  const work = useJobs();
  const [title, setTitle] = useState(stand?.title ?? tune);
  useEffect(() => {
    get(`/api/tunes/${encodeURIComponent(tune)}`).then((answer) => {
      setTitle(answer.title || tune);
      setStand({ name: tune, title: answer.title || tune });
    }, () => {});
    document.title = `Paper: ${title} · shedbook`;
  }, [tune]);
  const set = (some) => {
    setValues((now) => ({ ...now, ...some }));
    if (some.paper) remember('paper', some.paper);
  };
  const instruments = words.instruments.map((one) => ({ value: one.id, label: one.name }));
  const forms = kForms.filter((form) => form.value !== 'pdf' || state.has.pages !== false);
  const as = forms.some((form) => form.value === values.as) ? values.as : forms[0].value;
  const who = html`<${Pick} label="For" value=${values.instrument} options=${instruments} onChange=${(instrument) => set({ instrument })} />`;
  const form = html`<${Pick} label="As" value=${as} options=${forms} onChange=${(next) => set({ as: next })} />`;
  const size = as === 'pdf' && html`<${Pick} label="Paper" value=${values.paper} options=${(words.papers ?? Object.keys(kPapers)).map((one) => ({ value: one, label: kPapers[one] ?? one }))} onChange=${(paper) => set({ paper })} />`;
  const level = html`<${Pick} label="Level" value=${values.level} options=${words.levels.map((one) => ({ value: one.level, label: `${one.level}, ${one.about}` }))} onChange=${(next) => set({ level: Number(next) })} />`;
  const plan = html`<${Pick} label="Plan" value=${values.plan} options=${[{ value: '', label: 'none' }, ...words.plans.map((one) => ({ value: one.id, label: one.title }))]} onChange=${(next) => set({ plan: next })} />`;
  const base = { instruments: [values.instrument], paper: values.paper, as };
  const ready = work.jobs.filter((job) => job.state === 'ready').length;
  const open = work.jobs.filter(isOpen).length;
  return html`<main id="sheet" class="desk p-paper">
      ${work.fault && html`<${FaultLine} fault=${work.fault} close=${work.clearFault} />`}
      <section class="sheet" aria-label="Paper">
        <div class="title"><h1>Paper</h1><p class="it">${title}</p></div>
        ${state.has.pages === false && html`<p class="line">${state.missing?.pages ?? 'LilyPond is missing, so no PDF can be set.'} What a notation program reads (.mxl) is made without it.</p>`}
        ${!state.guest && html`
        <${Row} name="book" about=${{ title: 'Book', says: 'The changes, every unit and scale with its drills, a line, and a log to fill in.' }}
          fields=${[who, level, plan, form, size]} make=${() => work.make({ make: 'book', tune, ...base, level: Number(values.level), plan: values.plan })}>
          <${LevelWords} levels=${words.levels} level=${values.level} />
          <${Contents} picks=${{ tune, instrument: values.instrument, level: Number(values.level), plan: values.plan }} />
        <//>
        <${Row} name="sheet" about=${{ title: 'Sheet', says: 'Drills on chords or scales of your choice, a page each.' }}
          fields=${[who, level, form, size]} disabled=${!values.topics.trim()} make=${() => work.make({ make: 'sheet', ...base, level: Number(values.level), topics: values.topics.split(',').map((one) => one.trim()).filter(Boolean) })}>
          <label class="pick">Chords or scales, with commas between <input class="field" value=${values.topics} onInput=${(event) => set({ topics: event.target.value })} /></label>
        <//>
        <${Row} name="lead" about=${{ title: 'Lead sheet', says: 'The changes on one page, as this player reads them.' }}
          fields=${[who, form, size]} make=${() => work.make({ make: 'lead', tune, ...base })} />`}
        <h2 class="made">What was made</h2>
        ${!work.jobs.length && html`<p class="line">What you make lies here until shedbook is closed.</p>`}
        <ul class="jobs">${work.jobs.map((job) => html`<${JobRow} key=${job.id} job=${job} stop=${work.stop} forget=${work.forget} again=${work.make} />`)}</ul>
      </section>
    </main>
    <${Foot} left=${{ status: open ? `${plural(open, 'file')} being made` : `${plural(ready, 'file')} ready`, note: title }} right=${{ small: 'back', label: 'To Practise', act: () => go(tunePath(tune, 'practise')) }} />`;
}
