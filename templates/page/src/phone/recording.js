// The sound of a drill, made in the browser from the same events as on paper and in shedbook's own recordings.
import { pieces } from './book.js';

const kRate = 44100;
const kTail = 1.5;
const kCountBars = 2;
const kParts = ['line', 'bass', 'chords', 'clicks'];

const hertz = (midi) => 440 * 2 ** ((midi - 69) / 12);
const gcd = (a, b) => (b ? gcd(b, a % b) : a);

// One tone: its partials (type, multiple of the frequency, share), how it begins and dies away, how bright it is.
const kVoices = {
  line: { partials: [['triangle', 1, 0.8], ['sine', 2, 0.2]], attack: 0.02, decay: 1.2, hold: 0.6, cut: 4000, level: 0.34 },
  bass: { partials: [['triangle', 1, 0.9], ['sine', 2, 0.15]], attack: 0.008, decay: 0.5, hold: 0.25, cut: 900, level: 0.42 },
  chords: { partials: [['sine', 1, 0.7], ['triangle', 2, 0.12]], attack: 0.006, decay: 0.7, hold: 0.15, cut: 2600, level: 0.12 },
};

function tone(context, out, voice, midi, velocity, begin, length) {
  const level = context.createGain();
  const peak = voice.level * (velocity / 127) ** 1.4;
  const end = begin + Math.max(0.06, length);
  level.gain.setValueAtTime(0, begin);
  level.gain.linearRampToValueAtTime(peak, begin + voice.attack);
  level.gain.setTargetAtTime(peak * voice.hold, begin + voice.attack, voice.decay);
  level.gain.setTargetAtTime(0, end - 0.03, 0.025);
  const filter = context.createBiquadFilter();
  filter.type = 'lowpass';
  filter.frequency.value = voice.cut;
  level.connect(filter).connect(out);
  for (const [type, multiple, share] of voice.partials) {
    const wave = context.createOscillator();
    wave.type = type;
    wave.frequency.value = hertz(midi) * multiple;
    const part = context.createGain();
    part.gain.value = share;
    wave.connect(part).connect(level);
    wave.start(begin);
    wave.stop(end + 0.15);
  }
}

function click(context, out, begin, strong) {
  const wave = context.createOscillator();
  const level = context.createGain();
  wave.frequency.value = strong ? 1800 : 1300;
  level.gain.setValueAtTime(strong ? 0.22 : 0.14, begin);
  level.gain.exponentialRampToValueAtTime(0.0005, begin + 0.05);
  wave.connect(level).connect(out);
  wave.start(begin);
  wave.stop(begin + 0.06);
}

// "2/8": the last two of every eight bars are silent.
function silence(words) {
  const match = /^(\d+)\/(\d+)$/.exec(words ?? '');
  return match ? { silent: Number(match[1]), of: Number(match[2]) } : null;
}

/** As recording.js has it. */
export async function record(request) {
  const { sound } = pieces.get(request.piece);
  const second = 60 / request.tempo / (sound.beat ?? 1); // a quarter
  const bars = sound.bars.length;
  const barLength = sound.length / bars;
  const pass = sound.length * second;
  const countIn = kCountBars * barLength * second;
  const quiet = silence(request.silent);
  const round = quiet ? quiet.of / gcd(bars, quiet.of) : 1;
  const times = (request.times ?? 1) > 1 ? 1 + round : 1;
  const seconds = countIn + times * pass;
  const context = new OfflineAudioContext(2, Math.ceil(kRate * (seconds + kTail)), kRate);
  const out = context.createGain();
  out.connect(context.destination);

  const clicks = request.clicks !== 'none';
  const beats = Math.max(1, Math.round(barLength / (sound.beat ?? 1)));
  // Two bars of count-in: halves, then beats.
  for (let beat = 0; beat < beats; beat += 2) click(context, out, beat * (sound.beat ?? 1) * second, beat === 0);
  for (let beat = 0; beat < beats; ++beat) click(context, out, (barLength + beat * (sound.beat ?? 1)) * second, beat === 0);
  const isSilent = (at, time) => {
    if (!quiet) return false;
    const bar = time * bars + Math.min(bars - 1, Math.max(0, sound.bars.findLastIndex((one) => one <= at + 1e-6)));
    return bar % quiet.of >= quiet.of - quiet.silent;
  };
  for (let time = 0; time < times; ++time) {
    const begin = countIn + time * pass;
    for (const [at, length, midi, velocity, part] of sound.notes) {
      const name = kParts[part];
      if (request.mute?.includes(name) || isSilent(at, time)) continue;
      const when = begin + at * second;
      if (name === 'clicks') clicks && click(context, out, when, velocity > 90);
      else tone(context, out, kVoices[name], midi, velocity, when, length * second);
    }
  }
  const buffer = await context.startRendering();
  const beatCount = Math.round(sound.length / (sound.beat ?? 1));
  const facts = {
    seconds,
    tempo: request.tempo,
    count_in: countIn,
    pass_seconds: pass,
    times,
    loop: times > 1 ? { from: countIn + pass, to: seconds } : { from: countIn, to: countIn + pass },
    bars: sound.bars.map((at, bar) => [bar, at * second]),
    beats: Array.from({ length: beatCount }, (_, i) => i * (sound.beat ?? 1) * second),
    onsets: sound.onsets.map(([written, sounding]) => [written, sounding * second]),
  };
  return { facts, buffer };
}
