// The folder's tunes as in a contents page: find, open, new, import, rename, remove.
import { html, useEffect, useLayoutEffect, useRef, useState } from '../html.js';
import { go, tunePath } from '../address.js';
import { recall } from '../device.js';
import { get, send, sendFile } from '../net.js';
import { useNews } from '../news.js';
import { useShared } from '../shared.js';
import { tell } from '../voice.js';
import { FaultLine } from '../parts/controls.js';
import { Foot } from '../parts/foot.js';
import { plural, pretty } from '../parts/words.js';

const clock = (time) => new Date(time).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });

function stateOf(tune) {
  if (tune.slip) return tune.slip.line ? `slip in line ${tune.slip.line}` : 'slip';
  if (!tune.units) return '';
  if (!tune.units_at_tempo) return plural(tune.units, 'unit');
  return `${tune.units_at_tempo} of ${plural(tune.units, 'unit')} at tempo`;
}

// A file that is no chart has no title.
const titleOf = (tune) => tune.title || tune.name;

// The last opened on top, then by title.
function inOrder(tunes) {
  const opened = recall('opened', {});
  return [...tunes].sort((a, b) => (opened[b.name] ?? 0) - (opened[a.name] ?? 0) || titleOf(a).localeCompare(titleOf(b)));
}

function Rename({ tune, done }) {
  const [to, set] = useState(tune.name);
  const [fault, setFault] = useState(null);
  const field = useRef(null);
  useLayoutEffect(() => field.current.select(), []);
  const save = async (event) => {
    event.preventDefault();
    try {
      done(to === tune.name ? null : await send('POST', `/api/tunes/${encodeURIComponent(tune.name)}/rename`, { to }));
    } catch (problem) {
      setFault(problem);
    }
  };
  return html`<form class="rename" onSubmit=${save} onKeyDown=${(event) => event.key === 'Escape' && done(null)}>
    <label>New name <input class="field" ref=${field} value=${to} onInput=${(event) => set(event.target.value)} required /></label>
    <button class="b main">Rename</button><button type="button" class="b q" onClick=${() => done(null)}>Leave it</button>
    ${fault && html`<p class="wrong" role="alert">${fault.message}</p>`}
  </form>`;
}

function Row({ tune, outside, renaming, rename, renamed, remove, importHere, guest }) {
  return html`<li>
    <div class="tl">
      <a class="tt" href=${tunePath(tune.name, tune.editable ? 'write' : 'practise')}><b>${titleOf(tune)}</b></a>
      <span class="tk1">${pretty(tune.key)}</span><span class="tb">${tune.bars ? plural(tune.bars, 'bar') : ''}</span>
      <span class=${`ts ${tune.slip ? 'slipped' : ''}`}>${outside ? `changed outside at ${clock(tune.changed)}` : stateOf(tune)}</span>
      ${!guest &&
      html`<span class="ta">
        ${!tune.editable && html`<button class="b q" onClick=${importHere} aria-label=${`Write as a chart: ${titleOf(tune)}`}>Write as a chart</button>`}
        <button class="b q" onClick=${rename} aria-label=${`Rename ${titleOf(tune)}`}>Rename</button>
        <button class="b q" onClick=${remove} aria-label=${`Remove ${titleOf(tune)}`}>Remove</button>
      </span>`}
    </div>
    ${renaming && html`<${Rename} tune=${tune} done=${renamed} />`}
  </li>`;
}

function NewTune({ close }) {
  const [title, setTitle] = useState('');
  const [fault, setFault] = useState(null);
  const field = useRef(null);
  // At once: who clicks and types loses no letter.
  useLayoutEffect(() => field.current.focus(), []);
  const make = async (event) => {
    event.preventDefault();
    try {
      const tune = await send('POST', '/api/tunes', { title, bars: 4 });
      go(tunePath(tune.name, 'write'));
    } catch (problem) {
      setFault(problem);
    }
  };
  return html`<form class="rename" onSubmit=${make} onKeyDown=${(event) => event.key === 'Escape' && close()}>
    <label>Title <input class="field" ref=${field} value=${title} onInput=${(event) => setTitle(event.target.value)} required /></label>
    <button class="b main">Write it</button><button type="button" class="b q" onClick=${close}>Leave it</button>
    ${fault && html`<p class="wrong" role="alert">${fault.message}</p>`}
  </form>`;
}

function ImportLine({ line }) {
  if (line.fault) return html`<li><b>${line.file}</b>: not read. ${line.fault}</li>`;
  const lost = line.lost?.length ? `; not read: ${line.lost.join(', ')}` : '';
  return html`<li><b>${line.file}</b>: ${line.read}${lost} <a href=${tunePath(line.tune.name, 'write')}>Open</a></li>`;
}

export function Tunes() {
  const { state } = useShared();
  const [tunes, setTunes] = useState(null);
  const [bin, setBin] = useState([]);
  const [fault, setFault] = useState(null);
  const [find, setFind] = useState('');
  const [making, setMaking] = useState(false);
  const [renaming, setRenaming] = useState(null);
  const [gone, setGone] = useState(null); // the last that was removed
  const [imports, setImports] = useState([]);
  const [outside, setOutside] = useState(new Set());
  const chooser = useRef(null);
  const known = useRef(null);

  const load = async (byOthers = false) => {
    try {
      const [{ tunes: rows }, { bin: removed }] = await Promise.all([get('/api/tunes'), get('/api/bin')]);
      if (byOthers && known.current) {
        const changed = rows.filter((row) => known.current.has(row.name) && known.current.get(row.name) !== row.revision);
        setOutside((now) => new Set([...now, ...changed.map((row) => row.name)]));
      }
      known.current = new Map(rows.map((row) => [row.name, row.revision]));
      setTunes(rows);
      setBin(removed);
      setFault(null);
    } catch (problem) {
      setFault(problem);
    }
  };
  useEffect(() => {
    document.title = 'Tunes · shedbook';
    load();
  }, []);
  useNews(['tunes'], () => load(true));

  const attempt = async (act) => {
    try {
      await act();
      await load();
    } catch (problem) {
      setFault(problem);
    }
  };
  const remove = (tune) =>
    attempt(async () => {
      const { bin: id } = await send('DELETE', `/api/tunes/${encodeURIComponent(tune.name)}`);
      setGone({ id, title: titleOf(tune) });
      tell(`${titleOf(tune)} moved to the bin`);
    });
  const putBack = (id) =>
    attempt(async () => {
      await send('POST', `/api/bin/${encodeURIComponent(id)}/put-back`);
      setGone((now) => (now?.id === id ? null : now));
      tell('Put back');
    });
  const importHere = (tune) => attempt(() => send('POST', `/api/tunes/${encodeURIComponent(tune.name)}/import-here`));
  const take = async (files) => {
    for (const file of files) {
      try {
        const made = await sendFile(`/api/import?file=${encodeURIComponent(file.name)}`, file);
        setImports((now) => [...now, { file: file.name, ...made }]);
      } catch (problem) {
        const slip = problem.said?.slips?.[0];
        setImports((now) => [...now, { file: file.name, fault: slip ? slip.message : problem.message }]);
      }
    }
    await load();
  };
  useEffect(() => {
    const over = (event) => event.preventDefault();
    const drop = (event) => {
      event.preventDefault();
      if (event.dataTransfer?.files.length) take([...event.dataTransfer.files]);
    };
    addEventListener('dragover', over);
    addEventListener('drop', drop);
    return () => {
      removeEventListener('dragover', over);
      removeEventListener('drop', drop);
    };
  }, []);

  const asked = find.trim().toLowerCase();
  const rows = inOrder(tunes ?? []).filter((tune) => `${titleOf(tune)} ${tune.name} ${tune.composer ?? ''} ${tune.key ?? ''}`.toLowerCase().includes(asked));
  const guest = state.guest;
  return html`<main id="sheet" class="desk p-tunes">
      ${fault && html`<${FaultLine} fault=${fault} again=${load} close=${() => setFault(null)} />`}
      <section class="sheet" aria-labelledby="h">
        <div class="title"><h1 id="h">Tunes</h1><p class="it">${state.folder}</p></div>
        <div class="under">
          <label class="pick">Find <input class="field" type="search" value=${find} onInput=${(event) => setFind(event.target.value)} /></label>
          ${!guest &&
          html`<span class="grp">
            <button class="b" onClick=${() => chooser.current.click()}>Import</button>
            <button class="b main" onClick=${() => setMaking(true)}>New tune</button>
            <input ref=${chooser} class="vh" type="file" multiple tabindex="-1" aria-hidden="true" aria-label="Files to import"
              accept=".musicxml,.xml,.mxl,.abc,.json,.tune,.txt" onChange=${(event) => { take([...event.target.files]); event.target.value = ''; }} />
          </span>`}
        </div>
        ${making && html`<${NewTune} close=${() => setMaking(false)} />`}
        <div role="status">
          ${gone && html`<p class="line">${gone.title}: moved to the bin. <button class="b q" onClick=${() => putBack(gone.id)}>Put back</button></p>`}
          ${imports.length > 0 && html`<ul class="imports">${imports.map((line) => html`<${ImportLine} line=${line} />`)}</ul>`}
        </div>
        ${tunes && !tunes.length &&
        html`<div class="none"><p>No tune lies in this folder yet.</p>
          <div class="acts"><button class="b main" onClick=${() => setMaking(true)}>Write your first tune</button><button class="b" onClick=${() => chooser.current.click()}>Import</button></div></div>`}
        ${tunes?.length > 0 && !rows.length && html`<p class="line">No title, key or name holds “${find}”.</p>`}
        <ol class="tunes">
          ${rows.map((tune) => html`<${Row} key=${tune.name} tune=${tune} guest=${guest} outside=${outside.has(tune.name)}
            renaming=${renaming === tune.name} rename=${() => setRenaming(tune.name)}
            renamed=${(made) => { setRenaming(null); if (made) load(); }}
            remove=${() => remove(tune)} importHere=${() => importHere(tune)} />`)}
        </ol>
        ${bin.length > 0 &&
        html`<details class="help"><summary>The bin, ${plural(bin.length, 'tune')}</summary><ul class="tunes">
          ${bin.map((one) => html`<li key=${one.id}><div class="tl"><span class="tt">${one.title || one.name}</span><span class="ts">${one.why} at ${clock(one.removed)}</span>
            <span class="ta"><button class="b q" onClick=${() => putBack(one.id)} aria-label=${`Put back ${one.title || one.name}`}>Put back</button></span></div></li>`)}
        </ul></details>`}
      </section>
    </main>
    <${Foot} left=${{ status: tunes ? plural(tunes.length, 'tune') : '', note: state.folder }} right=${rows[0] && { small: 'next', label: `Open ${rows[0].title || rows[0].name}`, act: () => go(tunePath(rows[0].name, rows[0].editable ? 'write' : 'practise')) }} />`;
}
