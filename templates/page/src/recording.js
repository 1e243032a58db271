// A recording as the server makes it.
import { getBytes, send } from './net.js';

// The browser's own decoder takes longer than the sound may take to begin; the server writes 16-bit PCM in a RIFF file.
function samplesOf(bytes, context) {
  const view = new DataView(bytes);
  const nameAt = (at) => String.fromCharCode(...new Uint8Array(bytes, at, 4));
  let format = null;
  for (let at = 12; at + 8 <= bytes.byteLength; ) {
    const size = view.getUint32(at + 4, true);
    if (nameAt(at) === 'fmt ') {
      format = { kind: view.getUint16(at + 8, true), channels: view.getUint16(at + 10, true), rate: view.getUint32(at + 12, true), bits: view.getUint16(at + 22, true) };
    } else if (nameAt(at) === 'data') {
      if (format?.kind !== 1 || format.bits !== 16 || (at + 8) % 2) return null;
      const words = new Int16Array(bytes, at + 8, Math.floor(Math.min(size, bytes.byteLength - at - 8) / 2));
      const buffer = context.createBuffer(format.channels, Math.floor(words.length / format.channels), format.rate);
      for (let channel = 0; channel < format.channels; ++channel) {
        const samples = buffer.getChannelData(channel);
        for (let i = 0, from = channel; i < samples.length; ++i, from += format.channels) samples[i] = words[from] / 32768;
      }
      return buffer;
    }
    at += 8 + size + (size % 2);
  }
  return null;
}

const onTheWay = new Map(); // address -> promise of its bytes

// Once for all who ask while it is on its way: what is made ahead may be asked for again by a press.
function bytesOf(url) {
  if (!onTheWay.has(url)) onTheWay.set(url, getBytes(url).finally(() => onTheWay.delete(url)));
  return onTheWay.get(url);
}

/**
 * @param {object} request as POST /api/sound takes it
 * @param {BaseAudioContext} context makes the buffer
 * @param {() => void} rendered called when the server has made it, before it is here
 * @returns {Promise<{facts: object, buffer: AudioBuffer}>} facts: where things are in it, in seconds
 */
export async function record(request, context, rendered = () => {}) {
  const facts = await send('POST', '/api/sound', request);
  if (!facts.url) throw new Error('This sound made way for another.');
  rendered();
  const bytes = await bytesOf(facts.url);
  return { facts, buffer: samplesOf(bytes, context) ?? (await context.decodeAudioData(bytes)) };
}
