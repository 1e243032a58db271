// Head line: the places, the tune on the stand with its sheets, light and keys.
import { html } from '../html.js';
import { classPath, tunePath } from '../address.js';
import { recall } from '../device.js';

const kLightWords = { device: 'as device', day: 'day', night: 'night', stage: 'stage' };

const Link = ({ to, now, children }) => html`<li><a href=${to} aria-current=${now ? 'page' : undefined}>${children}</a></li>`;

export function Head({ at, stand, light, lights, setLight, openKeys }) {
  const sheet = (name, label) => html`<${Link} to=${tunePath(stand.name, name)} now=${at.place === name}>${label}<//>`;
  return html`<header class="head">
    <p class="word">shedbook</p>
    <nav class="places" aria-label="Places"><ul>
      <${Link} to="/tunes" now=${at.place === 'tunes'}>Tunes<//>
      <${Link} to="/today" now=${at.place === 'today'}>Today<//>
      <${Link} to=${classPath(recall('roster'))} now=${at.place === 'class'}>Class<//>
    </ul></nav>
    ${stand &&
    html`<nav class="stand" aria-label=${`On the stand: ${stand.title}`}><span class="tune">${stand.title}</span><ul>
      ${sheet('write', 'Write')}${sheet('practise', 'Practise')}${sheet('paper', 'Paper')}
    </ul></nav>`}
    <div class="side">
      <label class="pick light">Light <select value=${light} onChange=${(event) => setLight(event.target.value)}>
        ${lights.map((one) => html`<option value=${one} selected=${one === light}>${kLightWords[one]}</option>`)}
      </select></label>
      <button class="b q" onClick=${openKeys}>Keys</button>
    </div>
  </header>`;
}
