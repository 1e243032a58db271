// What is measured of sound and cursor, from what the page did and not from what it says of itself.

/** Samples and rate of a WAV file with 16-bit PCM (RIFF WAVE, as in RFC 2361 and the "Multimedia Programming Interface" of 1991). */
export function readWav(bytes) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 12;
  let channels = 0;
  let rate = 0;
  while (at + 8 <= bytes.length) {
    const id = String.fromCharCode(...bytes.subarray(at, at + 4));
    const size = view.getUint32(at + 4, true);
    if (id === 'fmt ') {
      channels = view.getUint16(at + 10, true);
      rate = view.getUint32(at + 12, true);
    } else if (id === 'data') {
      const count = Math.floor(Math.min(size, bytes.length - at - 8) / 2 / channels);
      const samples = new Float32Array(count);
      for (let i = 0; i < count; ++i) {
        let sum = 0;
        for (let channel = 0; channel < channels; ++channel) sum += view.getInt16(at + 8 + 2 * (i * channels + channel), true);
        samples[i] = sum / channels / 32768;
      }
      return { rate, samples };
    }
    at += 8 + size + (size % 2);
  }
  throw new Error('no data in the WAV file');
}

/** Where in the file a source stands at a time of its clock. */
export function inFile(start, time) {
  const at = start.offset + (time - start.when);
  if (!start.loop || at < start.loopEnd) return at;
  return start.loopStart + ((at - start.loopStart) % (start.loopEnd - start.loopStart));
}

export function quantile(values, share) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}

/**
 * How far the cursor was from the note that sounded, in seconds: 0 while it stands on it. `seen`: [{ time, quarters }], by the
 * audio clock; `facts` as POST /api/sound answers.
 */
export function cursorErrors(seen, start, facts, places) {
  const secondsOf = (quarters) => {
    const exact = facts.onsets.find(([at]) => Math.abs(at - quarters) < 1e-4);
    return exact ? exact[1] : null;
  };
  const seconds = places.map(secondsOf);
  const errors = [];
  for (const { time, quarters } of seen) {
    const file = inFile(start, time);
    if (file < facts.count_in) continue;
    const at = (file - facts.count_in) % facts.pass_seconds;
    const index = places.findIndex((place) => Math.abs(place - quarters) < 1e-4);
    if (index < 0 || seconds[index] === null) continue;
    const from = seconds[index];
    const to = seconds[index + 1] ?? facts.pass_seconds;
    const miss = at < from ? Math.min(from - at, at + facts.pass_seconds - to) : at >= to ? Math.min(at - to, from + facts.pass_seconds - at) : 0;
    errors.push(Math.max(0, miss));
  }
  return errors;
}

/** How alike two stretches of sound are: 1 for the same but for the level. */
export function likeness(a, b) {
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < a.length; ++i) {
    ab += a[i] * b[i];
    aa += a[i] * a[i];
    bb += b[i] * b[i];
  }
  return aa && bb ? ab / Math.sqrt(aa * bb) : 0;
}

// How well the recording from the loudspeaker fits the file if its first sample was played at `zero`.
function fit(heard, zero, from, to, step, start, samples, rate) {
  const a = [];
  const b = [];
  for (let i = from; i < to; i += step) {
    a.push(heard[i]);
    b.push(samples[Math.round(inFile(start, zero + i / rate) * rate)] ?? 0);
  }
  return likeness(a, b);
}

/**
 * The turns of a loop in what was recorded: how many, and how alike the worst of them is to the file around it. The recorder gives
 * blocks without gaps, but says only about when the first began: that is found where the recording fits the file best.
 */
export function turnsOfLoop(blocks, start, samples, rate) {
  const heard = new Float32Array(blocks.reduce((sum, block) => sum + block.samples.length, 0));
  let at = 0;
  for (const block of blocks) {
    heard.set(block.samples, at);
    at += block.samples.length;
  }
  const from = Math.min(heard.length - 1, Math.round(4 * rate));
  const to = Math.min(heard.length, from + 3 * rate);
  let zero = blocks[0].at;
  let best = -1;
  const look = (middle, reach, step, every) => {
    for (let shift = -reach; shift <= reach; shift += step) {
      const value = fit(heard, middle + shift / rate, from, to, every, start, samples, rate);
      if (value > best) [best, zero] = [value, middle + shift / rate];
    }
  };
  look(zero, 33000, 6, 61);
  look(zero, 12, 1, 7);
  const reach = 4096;
  const length = start.loopEnd - start.loopStart;
  let turns = 0;
  let least = 1;
  for (let turn = start.when + start.loopEnd - start.offset; ; turn += length) {
    const middle = Math.round((turn - zero) * rate);
    if (middle + reach > heard.length) break;
    if (middle < reach) continue;
    turns += 1;
    least = Math.min(least, fit(heard, zero, middle - reach, middle + reach, 1, start, samples, rate));
  }
  return { turns, least };
}
