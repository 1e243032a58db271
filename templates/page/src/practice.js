// Practising one drill: what the two feet, the keys and the foot line do, and what goes into the log.
import { useEffect, useMemo, useRef, useState } from './html.js';
import { recall, remember } from './device.js';
import { useHear } from './hearing.js';
import { query, send } from './net.js';
import { makeAhead, onEnded } from './sound.js';
import { tell, tellFault } from './voice.js';

const kOptions = {
  line: true,
  bass: true,
  chords: true,
  clicks: true,
  loop: true,
  countIn: true,
  silent: 'none',
  hide: 'nothing',
  larger: 1,
};
const kUndoBySound = 3000; // milliseconds in which the other foot takes a press back
const kPrepareAfter = 200; // milliseconds: what is made ahead makes way

/** Who plays, loop, count-in, silent bars: as this device was left. Notes are hidden for a while, and never when one comes in. */
export function useOptions() {
  const [options, set] = useState(() => ({ ...kOptions, ...recall('options', {}), hide: kOptions.hide }));
  const change = (some) =>
    set((now) => {
      const next = { ...now, ...some };
      remember('options', next);
      return next;
    });
  return [options, change];
}

const kUsualTempo = 80;
const kUsualStep = 4;
const goalOf = (piece) => piece?.boxes?.at(-1) ?? piece?.goal ?? null;

/** Where one begins, by the rules of the log. */
export const startTempo = (piece, standing) => standing?.start || piece.boxes?.[0] || piece.goal || kUsualTempo;

/** A step up, and never over a box that is on the way; null at the goal. */
export function nextTempo(piece, tempo, step) {
  const goal = goalOf(piece);
  if (goal === null || tempo >= goal) return null;
  const box = (piece.boxes ?? []).find((one) => one > tempo) ?? goal;
  return Math.min(tempo + step, box);
}

// Tempos are remembered for the day and by what is practised, wherever it stands: on the next day the log says where to begin.
const kToday = new Date().toDateString();
const tempoName = (piece, tag) => `tempo.${piece.item ? Object.values(piece.item).join(' ') : tag}`;
const rememberTempo = (name, tempo) => remember(name, { tempo, day: kToday });
function recallTempo(name) {
  const kept = recall(name);
  return kept?.day === kToday ? kept.tempo : null;
}

/** While something sounds head line and form go out of the way, and what sounds stands at the top; it stays there afterwards. */
export function useStand(sounds, selector) {
  const was = useRef(false);
  useEffect(() => {
    document.body.classList.toggle('sounds', sounds);
    if (sounds || was.current) document.querySelector(selector)?.scrollIntoView({ block: 'start', behavior: 'instant' });
    was.current = sounds;
    return () => document.body.classList.remove('sounds');
  }, [sounds]);
}

const atTempo = (piece, standing) => {
  const last = piece.boxes?.at(-1);
  return last !== undefined && (standing?.ticked ?? []).includes(last);
};
export const isAtTempo = atTempo;

/**
 * @param {{document: string, piece: ?object, standing: ?object, options: object, change: (some: object) => void,
 *   onStanding: (piece: string, standing: object) => void, next: ?() => void, nextLabel: string, before: ?() => void, guest: boolean}} what
 */
export function usePractice({ document, piece, standing, options, change, onStanding, next, nextLabel = 'Next drill', before, guest }) {
  const hearing = useHear();
  const tag = piece ? `${document} ${piece.piece}` : '';
  const [tempo, setTempo] = useState(() => (piece ? startTempo(piece, standing) : 80));
  const [phase, setPhase] = useState('ready'); // ready, sounding, stopped
  const [ticks, setTicks] = useState([]); // of this visit, to be undone
  const [fault, setFault] = useState(null);
  const [bars, setBars] = useState(null); // a part to loop, from 0
  const began = useRef(0);
  const heard = useRef(0);
  const lastAct = useRef(null); // { at, foot, undo }

  useEffect(() => {
    if (!piece) return;
    hearing.stop();
    setTempo(recallTempo(tempoName(piece, tag)) ?? startTempo(piece, standing));
    setPhase('ready');
    setBars(null);
    heard.current = 0;
  }, [tag]);
  const request = useMemo(() => {
    const mute = ['line', 'bass', 'chords'].filter((who) => !options[who]);
    return piece && {
      document,
      piece: piece.piece,
      tempo,
      ...(mute.length ? { mute } : {}),
      ...(options.clicks ? {} : { clicks: 'none' }),
      ...(options.silent === 'none' ? {} : { silent: options.silent }),
      times: options.loop ? 2 : 1,
    };
  }, [document, piece?.piece, tempo, options.line, options.bass, options.chords, options.clicks, options.silent, options.loop]);
  const how = { loop: options.loop, countIn: options.countIn, bars, tag };

  // What will be heard is made before it is asked for; another mix or tempo while it sounds is heard at once.
  const requestKey = JSON.stringify(request);
  useEffect(() => {
    if (!piece || hearing.fault) return undefined;
    if (hearing.sounding && hearing.tag === tag) {
      hearing.start(request, how);
      return undefined;
    }
    const timer = setTimeout(() => makeAhead(request).catch(() => {}), kPrepareAfter);
    return () => clearTimeout(timer);
  }, [requestKey, options.countIn, bars?.join()]);

  const isSounding = hearing.sounding && hearing.tag === tag;
  useEffect(() => {
    if (isSounding) {
      began.current = Date.now();
      setPhase('sounding');
    } else if (phase === 'sounding' && !hearing.making) {
      heard.current += Date.now() - began.current;
      setPhase('stopped');
    }
  }, [isSounding, hearing.making]);
  useEffect(() => onEnded(() => setPhase((now) => (now === 'sounding' ? 'stopped' : now))), []);

  const start = () => hearing.start(request, how);
  const toggle = () => hearing.toggle(request, how);

  const enter = async (values, one = piece) => {
    if (guest || !one) return null;
    const seconds = Math.round((heard.current + (isSounding ? Date.now() - began.current : 0)) / 1000);
    heard.current = 0;
    if (isSounding) began.current = Date.now();
    try {
      const entry = await send('POST', '/api/log', { document: one.document ?? document, piece: one.piece, right: 0, wrong: 0, ...values, seconds });
      onStanding(one.piece, entry.standing);
      setTicks((now) => [...now, { id: entry.id, document: one.document ?? document, piece: one.piece, ...values }]);
      setFault(null);
      return entry;
    } catch (problem) {
      setFault(problem);
      tellFault(`Not in the log: ${problem.message}`);
      return null;
    }
  };
  const undo = async (id = ticks.at(-1)?.id) => {
    const tick = ticks.find((one) => one.id === id);
    if (!tick) return;
    try {
      const answer = await send('DELETE', `/api/log/${id}${query({ document: tick.document })}`);
      onStanding(tick.piece, answer.standing);
      setTicks((now) => now.filter((one) => one.id !== id));
      tell('Undone');
    } catch (problem) {
      setFault(problem);
    }
  };

  const hidden = options.hide !== 'nothing';
  const step = standing?.step || kUsualStep;
  const following = piece ? nextTempo(piece, tempo, step) : null;
  const right = async ({ memory = false } = {}) => {
    const entry = await enter({ tempo, memory, right: 1, wrong: 0 });
    if (!entry) return null;
    tell(memory ? `Ticked at ${tempo}, from memory` : `Ticked at ${tempo}`);
    hearing.stop();
    setPhase('ready');
    if (following) setSteadyTempo(following);
    else next?.();
    return entry;
  };
  const notYet = async () => {
    const entry = await enter({ tempo, memory: false, right: 0, wrong: 1 });
    if (entry) tell('Not yet: noted');
    return entry;
  };
  /** A box that was pressed by hand, of this drill or another of the sheet. From memory is at the goal, as in the log. */
  const tick = async (at, memory, on, one = piece, its = standing) => {
    const box = at ?? goalOf(one) ?? startTempo(one, its);
    if (on) {
      const entry = await enter({ tempo: box, memory, right: 1, wrong: 0 }, one);
      if (entry) tell(memory ? `Ticked at ${box}, from memory` : `Ticked at ${box}`);
      return;
    }
    const last = ticks.findLast((tick) => tick.piece === one.piece && tick.right && (memory ? tick.memory : tick.tempo === at));
    if (last) await undo(last.id);
    else setFault(new Error('This box was ticked at another time. What stands in the log is changed with shedbook log correct.'));
  };
  const setSteadyTempo = (value) => {
    const next = Math.max(20, Math.min(400, value));
    setTempo(next);
    rememberTempo(tempoName(piece, tag), next);
  };

  // A press that can be taken back by the other foot within three seconds.
  const byFoot = (foot, act) => async () => {
    const last = lastAct.current;
    lastAct.current = null;
    if (last && last.foot !== foot && Date.now() - last.at < kUndoBySound) return undo(last.id);
    const entry = await act();
    if (entry?.id) lastAct.current = { foot, at: Date.now(), id: entry.id };
    return undefined;
  };
  const agreeFirst = (act) => (hearing.caution ? hearing.agree : act);
  // Hear, Stop and Right have buttons of their own: without a foot on a pedal the end of the line leads on.
  const onward = next ? { label: nextLabel, act: () => next() } : null;
  const rights = {
    ready: { label: 'Hear', act: agreeFirst(byFoot('right', async () => void start())), byHand: onward },
    sounding: { label: 'Stop', act: hearing.stop, byHand: onward },
    stopped: guest ? { label: 'Hear', act: start, byHand: onward } : { label: `Right at ${tempo}`, act: byFoot('right', () => right()), byHand: onward },
  };
  const lefts = {
    ready: before ? { label: 'Drill before', act: byFoot('left', async () => void before()) } : { status: '', note: '', act: byFoot('left', async () => {}) },
    sounding: { label: 'From the top', act: start },
    stopped: {
      label: 'Again',
      act: byFoot('left', async () => {
        const entry = guest ? null : await notYet();
        start();
        return entry;
      }),
    },
  };
  /** The part that is looped, from bar to bar (from 0, in either order); all bars: no part. */
  const loopBars = (one, other) => {
    const [first, last] = [Math.min(one, other), Math.max(one, other)];
    setBars(first <= 0 && last >= piece.bars - 1 ? null : [first, last]);
  };
  return {
    hearing,
    tag,
    tempo,
    setTempo: setSteadyTempo,
    faster: () => setSteadyTempo(tempo + step),
    slower: () => setSteadyTempo(tempo - step),
    step,
    following,
    last: ticks.at(-1) ?? null,
    phase,
    toggle,
    start,
    right,
    notYet,
    tick,
    undo,
    canUndo: ticks.length > 0,
    fault,
    clearFault: () => setFault(null),
    bars,
    loopBars,
    feet: { left: lefts[phase], right: rights[phase] },
    keys: {
      hear: toggle,
      faster: () => setSteadyTempo(tempo + step),
      slower: () => setSteadyTempo(tempo - step),
      right: () => right(),
      memory: () => right({ memory: true }),
      'not-yet': notYet,
      loop: () => change({ loop: !options.loop }),
      'count-in': () => change({ countIn: !options.countIn }),
      hide: () => change({ hide: hidden ? 'nothing' : 'notes' }),
    },
  };
}
