// In place of the server: ticks stay in this browser, and a file brings them home.
import { recall, remember } from '../device.js';
import { book, pieces } from './book.js';

export class Fault extends Error {
  constructor(status, said) {
    super(said.error);
    this.status = status;
    this.said = said;
  }
}

const name = `ticks.${book.code ?? book.title}`;
let ticks = recall(name, []);
let stored = true;
let onTicks = () => {};

export const allTicks = () => ticks;
export const unsaved = () => ticks.filter((tick) => !tick.saved).length;
export const isStored = () => stored;
export const watchTicks = (act) => (onTicks = act);

function keep(next) {
  ticks = next;
  stored = remember(name, ticks);
  onTicks();
}

// As the log lays out a ladder (docs/log.md): steps of a twentieth of the goal in fours, from a step below what was clean.
function ladder(boxes, clean) {
  const goal = boxes?.at(-1) ?? 0;
  const step = Math.max(4, 4 * Math.round(goal / 80));
  return { step, start: clean ? Math.min(goal, Math.max(40, clean - step)) : (boxes?.[0] ?? 0) };
}

/** What the boxes of a piece show. From memory is at the goal, as in the log. */
export function standingOf(piece) {
  const mine = ticks.filter((tick) => tick.piece === piece);
  const right = mine.filter((tick) => tick.right > 0);
  const goal = pieces.get(piece)?.boxes?.at(-1) ?? 0;
  const clean = right.length ? Math.max(...right.map((tick) => tick.tempo)) : null;
  return {
    ...ladder(pieces.get(piece)?.boxes, clean),
    ticked: [...new Set(right.map((tick) => tick.tempo))],
    memory: right.some((tick) => tick.memory && tick.tempo >= goal),
    clean_tempo: clean,
    right: mine.reduce((sum, tick) => sum + tick.right, 0),
    wrong: mine.reduce((sum, tick) => sum + tick.wrong, 0),
  };
}

export const query = () => '';

export async function send(method, path, body) {
  if (method === 'DELETE') {
    const id = Number(path.split('?')[0].split('/').at(-1));
    const tick = ticks.find((one) => one.id === id);
    keep(ticks.filter((one) => one.id !== id));
    return { standing: standingOf(tick?.piece) };
  }
  const piece = pieces.get(body.piece);
  const id = (ticks.at(-1)?.id ?? 0) + 1;
  const { tempo, memory = false, right = 0, wrong = 0, seconds = 0 } = body;
  keep([...ticks, { id, code: book.code, piece: body.piece, tempo, memory, right, wrong, seconds, at: new Date().toISOString(), goal: piece?.goal }]);
  return { id, standing: standingOf(body.piece) };
}

// A tick as the log writes it.
function entryOf({ piece, tempo, memory, right, wrong, seconds, at, goal }) {
  const { kind, subject, root, work, instrument } = pieces.get(piece)?.item ?? {};
  return {
    written: Math.round(Date.parse(at) / 1000),
    ...(book.student ? { player: book.student } : {}),
    day: at.slice(0, 10),
    kind,
    subject,
    ...(root === null || root === undefined ? {} : { root }),
    work,
    instrument: instrument ?? book.instrument?.id,
    tempo,
    ...(goal ? { goal } : {}),
    right,
    wrong,
    from_memory: memory ? 1 : 0,
    seconds,
    source: 'phone',
  };
}

/** All ticks as a file that `shedbook log import` and the class page take in. */
export function ticksFile() {
  const entries = ticks.filter((tick) => pieces.get(tick.piece)?.item).map(entryOf);
  return new Blob([JSON.stringify({ shedbook_log: 1, entries }, null, 1)], { type: 'application/json' });
}

export const noteSaved = () => keep(ticks.map((tick) => ({ ...tick, saved: true })));
