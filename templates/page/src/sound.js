// The one thing on this page that sounds. Never by itself: only after Hear, in one tab at a time, at a limited level.
import { recall, remember } from './device.js';
import { record } from './recording.js';

const kRate = 44100; // as the server renders, so that places in the file are samples
const kFadeIn = 0.03;
const kFadeOut = 0.08;
const kCeiling = 0.5; // -6 dB of full scale
const kMostAtStart = 0.6;
const kAhead = 0.06; // seconds between asking and the first sample

let context = null;
let output = null;
let running = null;
let asked = 0;
let volume = Math.min(recall('volume', 0.4), kMostAtStart);
const changed = new EventTarget();
const kept = new Map(); // request -> promise of { buffer, facts }
const kKept = 20;
const tabs = 'BroadcastChannel' in window ? new BroadcastChannel('shedbook-sound') : null;
if (tabs) tabs.onmessage = () => stop();

const announce = () => changed.dispatchEvent(new Event('change'));
export function onSound(act) {
  changed.addEventListener('change', act);
  return () => changed.removeEventListener('change', act);
}

export const cautionSeen = () => recall('caution', false);
export const noteCaution = () => remember('caution', true);
export const volumeNow = () => volume;

// As loud as asked, but never over the ceiling at this recording's peak.
const gainFor = (peak) => Math.min(volume * volume * 2, kCeiling / Math.max(peak, 0.001)) || 0;

export function setVolume(value) {
  volume = value;
  remember('volume', value);
  if (running) running.level.gain.setTargetAtTime(gainFor(running.peak), context.currentTime, 0.03);
  announce();
}

function open() {
  if (!context) {
    context = new AudioContext({ sampleRate: kRate, latencyHint: 'interactive' });
    output = context.createGain();
    output.connect(context.destination);
  }
  if (context.state === 'suspended') context.resume();
  return context;
}

function peakOf(buffer) {
  let peak = 0;
  for (let channel = 0; channel < buffer.numberOfChannels; ++channel) {
    const samples = buffer.getChannelData(channel);
    for (let i = 0; i < samples.length; i += 3) peak = Math.max(peak, Math.abs(samples[i]));
  }
  return peak;
}

async function make(request, rendered) {
  const { facts, buffer } = await record(request, context ?? new OfflineAudioContext(2, 1, kRate), rendered);
  // A single pass has no loop of its own: it is the loop.
  const loop = facts.loop ?? { from: facts.count_in, to: facts.count_in + facts.pass_seconds };
  return { facts: { ...facts, loop }, buffer, peak: peakOf(buffer) };
}

const made = new Set(); // of `kept`, what is there
const early = new Set(); // of `kept`, what the server has not made yet, and makes only when nobody waits for anything

// The recording of a request, made at most once.
function prepare(request, { ahead = false } = {}) {
  const key = JSON.stringify(request);
  const isThere = kept.has(key) && (ahead || !early.has(key));
  if (!isThere) {
    const recording = make(ahead ? { ...request, ahead } : request, () => kept.get(key) === recording && early.delete(key));
    kept.set(key, recording);
    if (ahead) early.add(key);
    else early.delete(key);
    recording.then(
      () => kept.get(key) === recording && made.add(key),
      () => kept.get(key) === recording && (kept.delete(key), early.delete(key)),
    );
    if (kept.size > kKept) {
      const oldest = kept.keys().next().value;
      kept.delete(oldest);
      made.delete(oldest);
    }
  }
  return kept.get(key);
}

function source(buffer, level) {
  const node = context.createBufferSource();
  node.buffer = buffer;
  node.connect(level);
  return node;
}

// What is there first: the whole loop where it is made, else one pass of it, which is made sooner, the rest behind it.
async function soonest(request, loop) {
  if (!loop || made.has(JSON.stringify(request))) return { first: await prepare(request), whole: null };
  const first = await prepare(onePass(request));
  return { first, whole: prepare(request) };
}

const onePass = (request) => (request.times > 1 ? { ...request, times: 1 } : request);

/** Makes one pass of what may soon be asked for, while nobody waits for another sound. */
export const makeAhead = (request) => prepare(onePass(request), { ahead: true });

/** Makes what was asked for and is not to sound yet: one pass first. */
export async function makeReady(request) {
  await prepare(onePass(request));
  await prepare(request);
}

// Which part of a pass is played: a bar that is played several times where it comes first, and what leads on from there.
function partOf(facts, bars) {
  const begin = bars ? facts.bars.findIndex(([index]) => index === bars[0]) : 0;
  const end = bars ? facts.bars.findIndex(([index], at) => at >= begin && index === bars[1]) : -1;
  const from = bars ? (facts.bars[begin]?.[1] ?? 0) : 0;
  const to = (end < 0 ? null : facts.bars[end + 1]?.[1]) ?? facts.pass_seconds;
  return { from, to, isPart: from > 0 || to < facts.pass_seconds };
}

/**
 * Stops what sounds and starts this.
 * @param {object} request as POST /api/sound takes it
 * @param {{loop?: boolean, countIn?: boolean, bars?: [number, number], tag?: string}} how bars: from 0, both included
 */
export async function hear(request, { loop = false, countIn = true, bars = null, tag = '' } = {}) {
  open();
  stop();
  const mine = ++asked;
  const { first, whole } = await soonest(request, loop);
  if (mine !== asked) return;
  tabs?.postMessage('sounds');
  begin(first, { loop, countIn, bars, tag, mine });
  whole?.then(
    (recording) => mine === asked && goOnWith(recording, bars),
    () => {},
  );
}

function begin({ facts, buffer, peak }, { loop, countIn, bars, tag, mine }) {
  const level = context.createGain();
  level.connect(output);
  const start = context.currentTime + kAhead;
  level.gain.setValueAtTime(0, start);
  level.gain.linearRampToValueAtTime(gainFor(peak), start + kFadeIn);
  const { from, to, isPart } = partOf(facts, bars);
  const lead = countIn ? facts.count_in : 0;
  const node = source(buffer, level);
  const nodes = [node];
  if (!isPart) {
    if (loop) Object.assign(node, { loop: true, loopStart: facts.loop.from, loopEnd: facts.loop.to });
    node.start(start, facts.count_in - lead);
  } else {
    // The count-in, then the bars that were asked for, which need not follow it in the file.
    if (lead > 0) node.start(start, 0, lead);
    const bit = source(buffer, level);
    nodes.push(bit);
    if (loop) Object.assign(bit, { loop: true, loopStart: facts.loop.from + from, loopEnd: facts.loop.from + to });
    bit.start(start + lead, (loop ? facts.loop.from : facts.count_in) + from, ...(loop ? [] : [to - from + kFadeOut]));
  }
  running = { facts, peak, level, nodes, begin: start, lead, from, to, loop, tag };
  nodes.at(-1).onended = () => {
    if (!running || mine !== asked || loop) return;
    running = null;
    changed.dispatchEvent(new Event('ended'));
    announce();
  };
  announce();
}

// The recording with the whole loop in place of the single pass: from a sample on at which both are the same.
function goOnWith({ facts, buffer }, bars) {
  if (!running) return;
  const { begin: start, lead, level, nodes } = running;
  const { from, to, isPart } = partOf(facts, bars);
  const now = start + Math.ceil((context.currentTime + kAhead - start) * kRate) / kRate;
  const turn = Math.max(now, start + lead);
  const played = turn - start - lead;
  const loopStart = facts.loop.from + from;
  const loopEnd = isPart ? facts.loop.from + to : facts.loop.to;
  const inFile = isPart ? loopStart + (played % (to - from)) : facts.count_in + played;
  const node = source(buffer, level);
  Object.assign(node, { loop: true, loopStart, loopEnd });
  node.start(turn, inFile < loopEnd ? inFile : loopStart + ((inFile - loopStart) % (loopEnd - loopStart)));
  for (const old of nodes) old.stop(turn);
  Object.assign(running, { facts, from, to, nodes: [...nodes, node] });
}

export function onEnded(act) {
  changed.addEventListener('ended', act);
  return () => changed.removeEventListener('ended', act);
}

export function stop() {
  asked += 1;
  if (!running) return;
  const { level, nodes } = running;
  const now = context.currentTime;
  level.gain.cancelScheduledValues(now);
  level.gain.setTargetAtTime(0, now, kFadeOut / 4);
  for (const node of nodes) {
    node.onended = null;
    node.stop(now + kFadeOut);
  }
  running = null;
  announce();
}

export const sounding = () => running !== null;
export const soundingTag = () => running?.tag ?? null;

/**
 * Where the music is, as it is heard (what the loudspeaker is late by is taken off).
 * @returns {?{countIn: number, at: number, pass: number, facts: object}} countIn: seconds still to count, else 0; at: seconds in
 *   the pass; pass: from 0
 */
export function position() {
  if (!running) return null;
  const { facts, begin, lead, from, to, loop } = running;
  const late = Math.min(context.outputLatency || context.baseLatency || 0, 0.3);
  const played = context.currentTime - late - begin - lead;
  if (played < 0) return { countIn: -played, at: from, pass: 0, facts };
  const length = to - from;
  if (!loop) return { countIn: 0, at: Math.min(from + played, to), pass: 0, facts };
  return { countIn: 0, at: from + (played % length), pass: Math.floor(played / length), facts };
}
