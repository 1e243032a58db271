// Hear, Slower, the tempo, Faster: the same in every foot line.
import { html, useEffect, useRef, useState } from '../html.js';
import { setVolume, volumeNow } from '../sound.js';
import { Tempo } from './words.js';

/**
 * Before the first sound the sentence about the volume stands over the button, and the button, where it was pressed, starts
 * quietly. beside: one more on the same sheet as the foot line's.
 */
export function HearButton({ hearing, tag, label = 'Hear', short, disabled, beside = false, onPress }) {
  const on = hearing.sounding && (!tag || hearing.tag === tag);
  const asks = hearing.caution && (!tag || hearing.cautionTag === tag);
  const text = on ? 'Stop' : asks ? 'Hear quietly' : hearing.making ? 'Making the sound' : label;
  const button = useRef(null);
  useEffect(() => {
    if (asks) button.current.focus({ preventScroll: true });
  }, [asks]);
  return html`<span class="hear">${asks && html`<${Caution} />`}<button class=${beside ? 'b' : 'b main'} ref=${button} disabled=${disabled} onClick=${asks ? hearing.agree : onPress}>${short && text === label ? html`<span class="lgw">${label}</span><span class="smw" aria-hidden="true">${short}</span>` : text}</button></span>
    ${hearing.fault && !beside && html`<p class="nosound" role="alert">No sound: ${hearing.fault.message} <button class="b q" onClick=${hearing.clearFault}>Close</button></p>`}`;
}

export const Caution = () => html`<p class="mind" role="alert">Mind the volume: protect your ears. Start low, above all with headphones.</p>`;

/** The tempo is a field too: type 104. */
export function TempoGroup({ tempo, beat = 'quarter', slower, faster, set, children }) {
  const [typed, type] = useState(null);
  const done = () => {
    const value = Number(typed);
    if (typed && value >= 20 && value <= 400) set(Math.round(value));
    type(null);
  };
  const field = useRef(null);
  useEffect(() => {
    if (typed !== null) field.current?.select();
  }, [typed !== null]);
  return html`<span class="grp">
    <button class="b" onClick=${slower}>Slower</button>
    ${typed === null
      ? html`<button class="tempo" aria-label=${`Tempo: ${beat} note = ${tempo}. Type another`} onClick=${() => type(String(tempo))}><${Tempo} at=${tempo} beat=${beat} /></button>`
      : html`<input class="field tempof" ref=${field} inputmode="numeric" aria-label="Tempo, 20 to 400" value=${typed} onInput=${(event) => type(event.target.value)} onBlur=${done} onKeyDown=${(event) => { if (event.key === 'Enter') done(); if (event.key === 'Escape') type(null); }} />`}
    <button class="b" onClick=${faster}>Faster</button>
    ${children}
  </span>`;
}

export function Volume({ className = '' }) {
  const [value, set] = useState(Math.round(100 * volumeNow()));
  return html`<label class=${`pick vol ${className}`}>Volume${' '}
    <input type="range" min="0" max="100" value=${value} onInput=${(event) => { set(Number(event.target.value)); setVolume(Number(event.target.value) / 100); }} /></label>`;
}
