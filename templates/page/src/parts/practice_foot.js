// The foot line while one practises, here and under Today.
import { html, useEffect, useState } from '../html.js';
import { recall, remember } from '../device.js';
import { useKeys } from '../keys.js';
import { Box, Pick } from './controls.js';
import { Foot } from './foot.js';
import { HearButton, TempoGroup, Volume } from './hear_controls.js';
import { barNumber, plural } from './words.js';

const kSilent = [
  { value: 'none', label: 'none' },
  { value: '2/8', label: '2 of 8' },
  { value: '4/8', label: '4 of 8' },
];
const kHide = ['nothing', 'notes', 'all but the first bar'];
const kNotes = [
  { value: 1, label: 'usual' },
  { value: 1.25, label: 'larger' },
  { value: 1.5, label: 'largest' },
];
const kWho = [
  ['line', 'Line'],
  ['bass', 'Bass'],
  ['chords', 'Chords'],
  ['clicks', 'Clicks'],
];

// Where the second row would cover the music: there it is closed while one plays.
const isNarrow = () => matchMedia('(max-width: 699px)').matches;

function LoopBars({ practice, count, pickup }) {
  if (!count || count < 2) return null;
  const [first, last] = practice.bars ?? [0, count - 1];
  const numbers = Array.from({ length: count }, (_, i) => ({ value: i, label: String(barNumber(i, pickup)) }));
  return html`<span class="grp" role="group" aria-label="Bars of the loop">
    <${Pick} label="from bar" value=${first} options=${numbers} onChange=${(value) => practice.loopBars(Number(value), Math.max(last, Number(value)))} />
    <${Pick} label="to bar" value=${last} options=${numbers} onChange=${(value) => practice.loopBars(Math.min(first, Number(value)), Number(value))} />
  </span>`;
}

// What was noted last, and how often it went right today.
function triesWords(last, standing) {
  const noted = last ? `${last.right ? 'right' : 'not yet'} at ${last.tempo}${last.memory ? ', from memory' : ''}` : '';
  const sum = standing && (standing.right || standing.wrong) ? `today ${standing.right} right, ${standing.wrong} not yet` : '';
  return [noted, sum].filter(Boolean).join('; ');
}

/** piece: what is practised; where: as useCursor tells it; note: what is said while nothing sounds */
export function PracticeFoot({ practice, options, change, where, standing, goal, guest, piece, note = '' }) {
  const [more, setMore] = useState(() => !isNarrow() && recall('more', false));
  const toggleMore = () => (remember('more', !more), setMore(!more));
  useKeys(practice.keys);
  useEffect(() => {
    const undo = (event) => {
      if ((event.ctrlKey || event.metaKey) && event.key === 'z' && !event.target.closest('input, textarea, [contenteditable=true]')) {
        event.preventDefault();
        practice.undo();
      }
    };
    addEventListener('keydown', undo);
    return () => removeEventListener('keydown', undo);
  });
  const { hearing } = practice;
  const sounds = practice.phase === 'sounding';
  useEffect(() => {
    if (sounds && isNarrow()) setMore(false);
  }, [sounds]);
  const tries = triesWords(practice.last?.piece === piece.piece ? practice.last : null, standing);
  const place = whereWords(where, piece);
  const second = html`<div class=${`row two${more ? ' more' : ''}`}>
    <span class="grp" role="group" aria-label="Who plays">
      ${kWho.map(([name, label]) => html`<${Box} key=${name} label=${label} checked=${options[name]} onChange=${(on) => change({ [name]: on })} />`)}
    </span>
    <span class="bar"></span>
    <span class="grp">
      <${Box} label="Loop" checked=${options.loop} onChange=${(on) => change({ loop: on })} />
      ${options.loop && html`<${LoopBars} practice=${practice} count=${piece.bars} pickup=${piece.pickup} />`}
      <${Box} label="Count-in" checked=${options.countIn} onChange=${(on) => change({ countIn: on })} />
      <${Pick} label="Silent bars" value=${options.silent} options=${kSilent} onChange=${(silent) => change({ silent })} />
      <${Pick} label="Hide" value=${options.hide} options=${kHide} onChange=${(hide) => change({ hide })} />
      <${Pick} label="Notes" value=${options.larger} options=${kNotes} onChange=${(larger) => change({ larger: Number(larger) })} />
    </span>
    <${Volume} />
  </div>`;
  return html`<${Foot} left=${practice.feet.left} right=${practice.feet.right} second=${second}>
    <span class="grp main3">
      <${HearButton} hearing=${hearing} tag=${practice.tag} onPress=${practice.toggle} />
      <${TempoGroup} tempo=${practice.tempo} beat=${piece.beat} slower=${practice.slower} faster=${practice.faster} set=${practice.setTempo}>
        <button class="b morebtn" aria-expanded=${more} onClick=${toggleMore}>More</button>
      <//>
    </span>
    <p class="step quiet">${place || tries || note || html`<br />`}<br />${practice.following ? `after Right: ${practice.following}` : 'the last tempo'}${goal ? `, goal ${goal}` : ''}</p>
    ${!guest &&
    html`<span class="grp try" role="group" aria-label="How was it?">
      <button class="b" onClick=${() => practice.right()}>Right</button><button class="b" onClick=${practice.notYet}>Not yet</button>
      <button class="b q" disabled=${!practice.canUndo} onClick=${() => practice.undo()}>Undo</button>
      <span class="quiet">${tries}</span>
    </span>`}
    ${practice.fault && html`<p class="nosound" role="alert">${practice.fault.message} <button class="b q" onClick=${practice.clearFault}>Close</button></p>`}
  <//>`;
}

const kTimes = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth', 'tenth'];

/** "bar 3 of 8, third time", in bars of the drill; "count-in 2" while it is counted in. */
function whereWords(words, { bars, pickup }) {
  if (!words) return '';
  if (words.startsWith('count ')) return `count-in ${words.slice(6)}`;
  const [measure, pass] = words.split(' ').map(Number);
  const number = barNumber(measure, pickup);
  return `${number === 0 ? 'pickup' : `bar ${number} of ${bars - (pickup ? 1 : 0)}`}, ${kTimes[pass] ? `${kTimes[pass]} time` : plural(pass + 1, 'time')}`;
}
