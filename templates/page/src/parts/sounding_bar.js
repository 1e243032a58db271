// The bar that sounds, marked over its staff, and the count before it.
import { html, useEffect, useRef, useState } from '../html.js';
import { position, soundingTag } from '../sound.js';
import { counted } from './cursor.js';

/** { bar, count } of what sounds under this tag: the bar as written, from 0; while it is counted in no bar, but the beat. */
export function useSoundingBar(tag) {
  const [shown, set] = useState({ bar: null, count: '' });
  useEffect(() => {
    let frame = 0;
    const look = () => {
      frame = requestAnimationFrame(look);
      const now = soundingTag() === tag ? position() : null;
      const said = now?.countIn > 0 ? counted(now) : '';
      const bar = now && !said ? (now.facts.bars.findLast(([, at]) => at <= now.at + 0.001)?.[0] ?? null) : null;
      set((was) => {
        const count = said === '.' ? was.count : said;
        return was.bar === bar && was.count === count ? was : { bar, count };
      });
    };
    look();
    return () => cancelAnimationFrame(frame);
  }, [tag]);
  return shown;
}

// Who writes on meanwhile keeps the text in view.
const bringIntoView = (element) => document.activeElement?.closest('.cm-editor') || element?.scrollIntoView({ block: 'nearest', behavior: 'instant' });

/** The beat that is counted in, where this measure of the drawing will sound. */
export function CountIn({ drawing, measure, count }) {
  const place = useRef(null);
  useEffect(() => bringIntoView(place.current), [drawing]);
  if (!measure) return null;
  const { staffTop, staffBottom } = drawing;
  const middle = ((measure.beats[0] ?? measure.left) + measure.right) / 2;
  return html`<span class="counted" aria-hidden="true" ref=${place} style=${{ left: `${middle}%`, top: `${staffTop}%`, height: `${staffBottom - staffTop}%` }}>${count}</span>`;
}

/** measure: as drawing.js has it, of this drawing. */
export function SoundingBar({ drawing, measure }) {
  const place = useRef(null);
  useEffect(() => bringIntoView(place.current), [drawing]);
  if (!measure) return null;
  const { staffTop, staffBottom } = drawing;
  const where = { left: `${measure.left}%`, width: `${measure.right - measure.left}%`, top: `${staffTop}%`, height: `${staffBottom - staffTop}%` };
  return html`<span class="sounding" data-bar=${measure.id} aria-hidden="true" ref=${place} style=${where}></span>`;
}
