// The scales that fit a chord, to choose from; the choice is written into the chart.
import { html, useEffect, useRef, useState } from '../html.js';
import { ChordName, pretty, spoken } from './words.js';
import { HearButton } from './hear_controls.js';
import { ScaleStaff } from './scale_staff.js';

function Choice({ choice, chosen, choose, worked }) {
  return html`<label class="alt">
    <input type="radio" name="scale" checked=${chosen} onChange=${choose} /><span class="dot" aria-hidden="true"></span>
    <span><b>${pretty(choice.scale_name)}</b> ${worked && html`<span class="quiet">${worked}</span>`}<span class="why">${pretty(choice.why)}</span></span>
    ${choice.notes && html`<${ScaleStaff} notes=${choice.notes} />`}
  </label>`;
}

// What players put on a dominant whose symbol asks for nothing else (common practice, no source).
const kOnDominants = [
  ['altered', 'b9, #9, b5 and b13: pulls hardest'],
  ['half_whole_diminished', 'b9 and #9, with natural 5 and 13'],
  ['lydian_dominant', 'natural 9, #11 and 13'],
  ['phrygian_dominant', 'b9 and b13, as before a minor chord'],
  ['whole_tone', 'natural 9 and #5'],
];
const isPlainDominant = (symbol) => /^[A-G][b#♭♯]*(7|9|13)$/.test(symbol);

/** write(scale id or null), hear(scale id), close() */
export function ChordStrip({ chord, scales, write, hear, close, fault, hearing }) {
  // Shown as the instrument reads it; what is written and heard is known by its id.
  const read = chord.read ?? chord;
  const first = { scale_id: read.scale_id, scale_name: read.scale_name, notes: read.notes, why: read.why };
  const [others, setOthers] = useState(false);
  const [chosen, choose] = useState(chord.scale_id);
  const place = useRef(null);
  useEffect(() => {
    place.current.querySelector('input:checked, button')?.focus({ preventScroll: true });
    place.current.scrollIntoView({ block: 'nearest', behavior: 'instant' });
  }, []);
  const fits = [first, ...read.alternatives];
  const named = (id) => scales.find((scale) => scale.id === id)?.name;
  const further = isPlainDominant(read.symbol) ? kOnDominants.filter(([id]) => named(id) && !fits.some((one) => one.scale_id === id)) : [];
  const root = /^[A-G][b#♭♯]*/.exec(read.symbol)?.[0] ?? '';
  const choices = [...fits, ...further.map(([id, why]) => ({ scale_id: id, scale_name: `${root} ${named(id)}`, why, notes: null }))];
  const more = others ? scales.filter((scale) => !choices.some((one) => one.scale_id === scale.id)) : [];
  return html`<section class="slip" ref=${place} aria-label=${`${spoken(read.symbol)} in bar ${chord.bar}`}
      onKeyDown=${(event) => { if (event.key === 'Escape') { event.stopPropagation(); close(); } }}>
    <header><h2><${ChordName} symbol=${read.symbol} /> in bar ${chord.bar} <span class="quiet">also fits</span></h2><button class="b q" onClick=${close}>Close</button></header>
    <fieldset><legend class="vh">Scales for ${spoken(read.symbol)}</legend>
      ${choices.map((choice, i) => html`<${Choice} key=${choice.scale_id} choice=${choice} chosen=${chosen === choice.scale_id} choose=${() => choose(choice.scale_id)} worked=${i === 0 && (chord.fixed ? 'fixed by you' : 'worked out')} />`)}
    </fieldset>
    ${others && html`<label class="pick">Another scale <select onChange=${(event) => choose(event.target.value)}>
      <option value="">choose</option>${more.map((scale) => html`<option value=${scale.id} selected=${scale.id === chosen}>${scale.name}</option>`)}
    </select></label>`}
    ${fault && html`<p class="wrong" role="alert">${fault.message}</p>`}
    <div class="acts">
      ${chord.from !== null && html`<button class="b main" disabled=${!chosen} onClick=${() => write(chosen)}>Write it into the chart</button>`}
      <${HearButton} hearing=${hearing} tag="scale" label="Hear it on the chord" beside onPress=${() => (hearing.sounding && hearing.tag === 'scale' ? hearing.stop() : hear(chosen))} />
      ${chord.fixed && chord.from !== null && html`<button class="b q" onClick=${() => write(null)}>Take the choice away</button>`}
      ${!others && html`<button class="b q" onClick=${() => setOthers(true)}>Another scale …</button>`}
    </div>
  </section>`;
}
