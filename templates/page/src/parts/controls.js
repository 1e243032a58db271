// The controls that every place uses: the square box, a pick list, a line for what went wrong.
import { html } from '../html.js';

/** Every yes or no is the square box of the paper book. */
export function Box({ checked, onChange, label, disabled, dim, describedBy }) {
  return html`<label class=${`box${dim ? ' dim' : ''}`}>
    <input type="checkbox" checked=${checked} disabled=${disabled} aria-describedby=${describedBy} onChange=${(event) => {
      // The box shows what is so, not what was pressed: a tick appears when it stands in the log.
      event.target.checked = checked;
      onChange(!checked);
    }} />
    <span class="sq" aria-hidden="true"></span><span>${label}</span>
  </label>`;
}

function choiceOf(one, value) {
  const row = typeof one === 'object' ? one : { value: String(one), label: String(one) };
  return html`<option value=${row.value} selected=${String(row.value) === String(value ?? '')}>${row.label}</option>`;
}

/** options: [{ value, label }] or words; a group of them: { group, options } */
export function Pick({ label, value, options, onChange, className = '', disabled }) {
  return html`<label class=${`pick ${className}`}>${label}${' '}
    <select disabled=${disabled} onChange=${(event) => onChange(event.target.value)}>
      ${options.map((one) => (one.group ? html`<optgroup label=${one.group}>${one.options.map((each) => choiceOf(each, value))}</optgroup>` : choiceOf(one, value)))}
    </select>
  </label>`;
}

/** What a level gives, in full: a list shows the beginning of it. */
export const LevelWords = ({ levels, level }) => {
  const about = levels.find((one) => String(one.level) === String(level))?.about;
  return about ? html`<p class="quiet levelwords">Level ${level}: ${about}.</p>` : null;
};

/** What does not work, in words, and what can be done about it. */
export function FaultLine({ fault, again, close }) {
  return html`<div class="faultline" role="alert">
    <p>${fault.message}</p>
    <span class="grp">
      ${again && html`<button class="b" onClick=${again}>Try again</button>`}
      ${close && html`<button class="b q" onClick=${close}>Close</button>`}
    </span>
  </div>`;
}

export const Progress = ({ done, steps, label }) => html`<progress max=${Math.max(1, steps)} value=${done} aria-label=${label}></progress>`;

export const kTick = 'M3 13l6 8L21 3';
export const TickSign = () => html`<svg class="tk pen" viewBox="0 0 24 24" aria-hidden="true"><path d=${kTick} /></svg>`;
// What was tried and is not right yet.
export const NotYetSign = () => html`<svg class="tk pen" viewBox="0 0 24 24" aria-hidden="true"><path d="M4 14h16" /></svg>`;
export const RestSign = () => html`<svg class="rs" viewBox="0 0 20 12" aria-hidden="true"><path d="M0 1h20" /><path d="M4 1h12v6H4z" fill="currentColor" stroke="none" /></svg>`;
