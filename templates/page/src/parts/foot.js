// Foot line: what the left and the right foot do is always printed at its ends.
import { html, useEffect, useState } from '../html.js';
import { hasPedal, onPedalSeen, useKeys } from '../keys.js';

function usePedalSeen() {
  const [seen, set] = useState(hasPedal);
  useEffect(() => onPedalSeen(() => set(true)), []);
  return seen;
}

/**
 * left, right: { label, note?, act } with what the foot does; or left as plain words: { status, note, act? }.
 * right.small: what stands over it where no pedal was seen ("next"). right.byHand: what stands in its place there, where another
 * button does the same; null: nothing.
 */
export function Foot({ left, right, children, second }) {
  const seen = usePedalSeen();
  useKeys({ 'foot-left': left?.act, 'foot-right': right?.act });
  const end = !seen && right && right.byHand !== undefined ? right.byHand : right;
  const start = left?.label
    ? html`<button class="pedal l" onClick=${left.act}>${seen && html`<small>left foot ←</small>`}<b>${left.label}</b></button>`
    : left?.status ? html`<p class="pedal st" role="status"><b>${left.status}</b><small>${left.note}</small></p>`
    : html`<span class="pedal l" aria-hidden="true"></span>`; // Hear and Stop stay where they are
  return html`<footer class="foot" aria-label="Foot line">
    <div class="row">
      ${start}${children}
      ${end &&
      html`<button class="pedal r p" onClick=${end.act}>
        ${seen && !end.small ? html`<small>right foot →</small>` : end.small && html`<small>${end.small}</small>`}<b>${end.label}</b>
      </button>`}
    </div>
    ${second}
  </footer>`;
}
