// A recording as the server makes it.
import { getBytes, send } from './net.js';

/**
 * @param {object} request as POST /api/sound takes it
 * @param {BaseAudioContext} context decodes
 * @returns {Promise<{facts: object, buffer: AudioBuffer}>} facts: where things are in it, in seconds
 */
export async function record(request, context) {
  const facts = await send('POST', '/api/sound', request);
  return { facts, buffer: await context.decodeAudioData(await getBytes(facts.url)) };
}
