// A pencil stroke through the staff that moves from note to note with the audio clock.
import { useEffect, useRef } from '../html.js';
import { position, soundingTag } from '../sound.js';

const reducedMotion = () => matchMedia('(prefers-reduced-motion: reduce)').matches;

// Seconds of the pass at which these quarters sound, swing included; between two known places in proportion.
function secondsAt(quarters, onsets) {
  let low = 0;
  let high = onsets.length - 1;
  if (high < 0) return 0;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (onsets[middle][0] <= quarters + 1e-6) low = middle;
    else high = middle - 1;
  }
  const [at, seconds] = onsets[low];
  const next = onsets[low + 1];
  if (Math.abs(at - quarters) < 1e-6 || !next) return seconds;
  return seconds + ((quarters - at) / (next[0] - at)) * (next[1] - seconds);
}

/** The moments of a score with the second at which each sounds. */
export const timed = (moments, facts) => moments.map((moment) => ({ ...moment, seconds: secondsAt(moment.quarters, facts.onsets) }));

// The last moment that has begun.
function momentAt(moments, seconds) {
  let low = 0;
  let high = moments.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (moments[middle].seconds <= seconds + 0.001) low = middle;
    else high = middle - 1;
  }
  return moments[low] ?? null;
}

const kRoom = 44; // pixels for chord symbols over a staff and for the ledger lines under it

// The staff that sounds is wholly between the top and the foot line; who scrolls away afterwards is left alone.
function keepInView(stave) {
  const box = stave.getBoundingClientRect();
  const foot = document.querySelector('.foot')?.getBoundingClientRect().top ?? innerHeight;
  const under = box.bottom - foot;
  if (box.top < 0) scrollBy(0, box.top - kRoom);
  else if (under > 0) scrollBy(0, Math.min(under, box.top) + kRoom);
}

/**
 * Moves the cursor within `place` while the sound with this tag is heard, and tells in words where it is.
 * The element of class "cur" is moved by hand: sixty times a second nothing is drawn anew.
 */
export function useCursor({ place, tag, moments, systems, onWhere }) {
  const latest = useRef({});
  latest.current = { moments, systems, onWhere };
  useEffect(() => {
    let frame = 0;
    let facts = null;
    let list = [];
    let from = null;
    let shown = null;
    let said = '';
    let heard = null; // the stave in which the cursor stands
    const step = () => {
      frame = requestAnimationFrame(step);
      const stroke = place.current?.querySelector('.cur');
      if (!stroke) return;
      const now = soundingTag() === tag ? position() : null;
      if (!now || !latest.current.moments.length) {
        if (shown !== null) stroke.hidden = true;
        shown = heard = null;
        if (said) latest.current.onWhere?.((said = ''));
        return;
      }
      if (facts !== now.facts || from !== latest.current.moments) {
        facts = now.facts;
        from = latest.current.moments;
        list = timed(from, facts);
      }
      const moment = momentAt(list, now.at);
      const key = reducedMotion() ? `m${moment.measure}` : moment;
      if (shown !== key) {
        shown = key;
        const system = latest.current.systems[moment.system];
        const stave = place.current.querySelectorAll('.stave')[moment.system];
        if (stroke.parentNode !== stave) stave.append(stroke);
        if (heard !== stave) keepInView(stave);
        heard = stave;
        stroke.style.left = `${moment.x + 0.6}%`;
        stroke.style.top = `${system.staffTop}%`;
        stroke.style.height = `${system.staffBottom - system.staffTop}%`;
        stroke.hidden = false;
        stroke.dataset.quarters = moment.quarters;
      }
      const words = now.countIn > 0 ? `count ${counted(now)}` : `${moment.measure} ${now.pass}`;
      if (words !== said) latest.current.onWhere?.((said = words), now);
    };
    frame = requestAnimationFrame(step);
    return () => cancelAnimationFrame(frame);
  }, [tag]);
}

/** The beat that is counted of a position, "3"; "." between those of a bar counted in halves: "1 . 2 ." and then "1 2 3 4". */
export function counted({ countIn, facts }) {
  const beat = facts.beats?.length > 1 ? facts.beats[1] - facts.beats[0] : 0.5;
  const all = Math.max(1, Math.round(facts.count_in / beat));
  const done = Math.min(all - 1, Math.max(0, Math.floor((facts.count_in - countIn) / beat)));
  const bar = Math.max(1, Math.round(all / 2));
  if (done >= bar) return String(done - bar + 1);
  return done % 2 === 0 ? String(done / 2 + 1) : '.';
}
