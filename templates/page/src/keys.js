// Keys and pedals. A place says what each does at the moment; text fields, lists and sliders keep theirs.
import { useEffect, useRef } from './html.js';
import { recall, remember } from './device.js';

/** What single keys do, by name; the player may change the key. */
export const kKeys = [
  { name: 'hear', key: ' ', says: 'Hear or Stop' },
  { name: 'faster', key: '+', says: 'Faster' },
  { name: 'slower', key: '-', says: 'Slower' },
  { name: 'right', key: 't', says: 'Right: tick at this tempo' },
  { name: 'memory', key: 'm', says: 'Right, from memory' },
  { name: 'not-yet', key: 'n', says: 'Not yet' },
  { name: 'loop', key: 'l', says: 'Loop' },
  { name: 'count-in', key: 'c', says: 'Count-in' },
  { name: 'hide', key: 'h', says: 'Hide the notes, Show' },
  { name: 'tunes', key: '1', says: 'Tunes' },
  { name: 'today', key: '2', says: 'Today' },
  { name: 'class', key: '3', says: 'Class' },
  { name: 'write', key: '4', says: 'Write' },
  { name: 'practise', key: '5', says: 'Practise' },
  { name: 'paper', key: '6', says: 'Paper' },
  { name: 'stage', key: 's', says: 'Light for the stage' },
  { name: 'keys', key: '?', says: 'The sheet of keys' },
];

const kLeft = ['ArrowLeft', 'PageUp'];
const kRight = ['ArrowRight', 'PageDown'];
const kTwice = 300; // milliseconds within which a foot counts once

const acts = []; // the last that offers a name wins
let lastFoot = 0;
const pedalSeen = new EventTarget();

export const settings = () => recall('keys', { off: false, own: {}, feet: {} });
export const saveSettings = (value) => remember('keys', value);
export const hasPedal = () => recall('pedal', false);
export const keyOf = (row) => settings().own[row.name] ?? row.key;

export function onPedalSeen(act) {
  pedalSeen.addEventListener('seen', act);
  return () => pedalSeen.removeEventListener('seen', act);
}

function offered(name) {
  for (let i = acts.length - 1; i >= 0; --i) {
    const act = acts[i].current?.[name];
    if (act) return act;
  }
  return null;
}

const isField = (target) =>
  target.closest?.('input:not([type=checkbox]):not([type=button]), textarea, select, [contenteditable=true], [role=slider], dialog input');
const isPressable = (target) => target.closest?.('button, a[href], summary, input[type=checkbox], [role=button]');

// 'left', 'right' or null.
function footOf(event) {
  const { feet } = settings();
  if (event.key === feet.left || kLeft.includes(event.key)) return 'left';
  if (event.key === feet.right || kRight.includes(event.key)) return 'right';
  return null;
}

function press(event) {
  if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
  if (isField(event.target)) return;
  if (document.querySelector('dialog[open]')) return;
  const foot = footOf(event);
  if (foot) {
    const act = offered(`foot-${foot}`);
    if (!act) return;
    event.preventDefault();
    if (event.repeat || event.timeStamp - lastFoot < kTwice) return;
    lastFoot = event.timeStamp;
    if (!hasPedal() && event.key.startsWith('Page')) {
      remember('pedal', true);
      pedalSeen.dispatchEvent(new Event('seen'));
    }
    act();
    return;
  }
  if (settings().off && event.key !== '?') return;
  const row = kKeys.find((one) => keyOf(one) === event.key || (one.name === 'faster' && event.key === '='));
  if (!row) return;
  if (event.key === ' ' && isPressable(event.target)) return;
  const act = offered(row.name);
  if (!act) return;
  event.preventDefault();
  act(event);
}

export function listen() {
  addEventListener('keydown', press);
}

/** Offers what keys do while this component is there: { hear: act, "foot-left": act, ... } */
export function useKeys(offers) {
  const ref = useRef(offers);
  ref.current = offers;
  useEffect(() => {
    acts.push(ref);
    return () => acts.splice(acts.indexOf(ref), 1);
  }, []);
}
