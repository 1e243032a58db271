// The clock of a sitting: starts with the first Hear, holds by itself when nothing is heard or done for two minutes, never rings.
import { useEffect, useRef, useState } from './html.js';
import { recall, remember } from './device.js';

const kHoldAfter = 120; // seconds
export const kNoPress = { right: 0, wrong: 0 };

const nameOf = (day) => `today.${day}`;

/** What was done on a day on this device: seconds, further minutes and presses an item, and what is over (`over`: by item, as finish() had it). */
export const recallSitting = (day) => ({ seconds: {}, over: {}, longer: {}, presses: {}, ...recall(nameOf(day), {}) });

/**
 * @param {string} day
 * @param {string} item the key of the item that is open
 * @param {boolean} sounds
 */
export function useSitting(day, item, sounds) {
  const [sitting, set] = useState(() => recallSitting(day));
  const [runs, setRuns] = useState(false);
  const lastSign = useRef(Date.now());
  const latest = useRef(item);
  latest.current = item;
  useEffect(() => {
    if (sounds) {
      lastSign.current = Date.now();
      setRuns(true);
    }
  }, [sounds]);
  useEffect(() => {
    if (!runs) return undefined;
    const timer = setInterval(() => {
      if (sounds) lastSign.current = Date.now();
      if (Date.now() - lastSign.current > 1000 * kHoldAfter) return setRuns(false);
      return set((now) => ({ ...now, seconds: { ...now.seconds, [latest.current]: (now.seconds[latest.current] ?? 0) + 1 } }));
    }, 1000);
    return () => clearInterval(timer);
  }, [runs, sounds]);
  useEffect(() => void remember(nameOf(day), sitting), [sitting]);
  return {
    ...sitting,
    runs,
    sign: () => (lastSign.current = Date.now()),
    hold: () => setRuns(false),
    goOn: () => ((lastSign.current = Date.now()), setRuns(true)),
    /** How many more times it was said to be right or not yet; fewer where that is taken back. */
    press: (key, right, wrong) =>
      set((now) => {
        const had = now.presses[key] ?? kNoPress;
        return { ...now, presses: { ...now.presses, [key]: { right: had.right + right, wrong: had.wrong + wrong } } };
      }),
    finish: (key, what) => set((now) => ({ ...now, over: { ...now.over, [key]: what } })),
    lengthen: (key) => set((now) => ({ ...now, longer: { ...now.longer, [key]: (now.longer[key] ?? 0) + 1 } })),
  };
}
