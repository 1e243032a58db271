// The sheet of keys: what each key does, another key for it, none at all; a pedal of one's own; the cautions.
import { html, useEffect, useRef, useState } from '../html.js';
import { kKeys, keyOf, saveSettings, settings } from '../keys.js';
import { Box } from './controls.js';

const shown = (key) => (key === ' ' ? 'Space' : key);

function KeyRow({ row, own, asking, ask }) {
  return html`<tr>
    <th scope="row">${row.says}</th>
    <td><kbd>${shown(own ?? row.key)}</kbd></td>
    <td><button class="b q" onClick=${ask} aria-pressed=${asking}>${asking ? 'Press the key now' : 'Another key'}</button></td>
  </tr>`;
}

export function KeySheet({ close }) {
  const dialog = useRef(null);
  const [now, set] = useState(settings);
  const [asking, ask] = useState(null); // a name of a key, 'foot left' or 'foot right'
  const change = (next) => {
    saveSettings(next);
    set(next);
  };
  useEffect(() => {
    dialog.current.showModal();
  }, []);
  const take = (event) => {
    if (!asking || ['Shift', 'Control', 'Alt', 'Meta', 'Tab'].includes(event.key)) return;
    event.preventDefault();
    event.stopPropagation();
    if (event.key !== 'Escape') {
      const foot = asking.startsWith('foot ') ? asking.slice(5) : null;
      if (foot) change({ ...now, feet: { ...now.feet, [foot]: event.key } });
      else change({ ...now, own: { ...now.own, [asking]: event.key } });
    }
    ask(null);
  };
  return html`<dialog class="keysheet" ref=${dialog} aria-labelledby="keys-h" onClose=${close} onKeyDown=${take}>
    <div class="title"><h2 id="keys-h">Keys</h2><button class="b q" onClick=${() => dialog.current.close()}>Close</button></div>
    <${Box} label="Single keys do something" checked=${!now.off} onChange=${(on) => change({ ...now, off: !on })} />
    <table><caption class="vh">Single keys</caption><tbody>
      ${kKeys.map((row) => html`<${KeyRow} key=${row.name} row=${row} own=${now.own[row.name]} asking=${asking === row.name} ask=${() => ask(row.name)} />`)}
    </tbody></table>
    <h3>Two feet</h3>
    <p>The right foot (Right arrow, Page Down) does what stands at the right end of the foot line, the left foot (Left arrow, Page Up) what stands at the left end.</p>
    <div class="acts">
      ${['left', 'right'].map((foot) => html`<button class="b" onClick=${() => ask(`foot ${foot}`)}>${asking === `foot ${foot}` ? `Press the ${foot} foot now` : `Another key for the ${foot} foot`}</button>`)}
    </div>
    <h3>Loop</h3>
    <p>Tap the first and the last bar in the music, or pick them in the foot line.</p>
    <p class="quiet">In the chart: Alt+Up and Alt+Down go to the slip before and after, Alt+Enter takes the suggestion; Ctrl+Z and Ctrl+Shift+Z undo and redo.</p>
    <p>Mind the volume: protect your ears. Start low, above all with headphones.</p>
    <p>Rest before you are tired. Stop at pain, and do not play through it.</p>
  </dialog>`;
}
