// The bar that sounds, marked over its staff.
import { html, useEffect, useRef, useState } from '../html.js';
import { position, soundingTag } from '../sound.js';

/** The bar that sounds under this tag, as written, from 0: the first while it is counted in; null while nothing sounds. */
export function useSoundingBar(tag) {
  const [bar, set] = useState(null);
  useEffect(() => {
    let frame = 0;
    const look = () => {
      frame = requestAnimationFrame(look);
      const now = soundingTag() === tag ? position() : null;
      set(now?.facts.bars.findLast(([, at]) => at <= now.at + 0.001)?.[0] ?? null);
    };
    look();
    return () => cancelAnimationFrame(frame);
  }, [tag]);
  return bar;
}

/** measure: as drawing.js has it, of this drawing. */
export function SoundingBar({ drawing, measure }) {
  const place = useRef(null);
  useEffect(() => {
    // Who writes on meanwhile keeps the text in view.
    if (!document.activeElement?.closest('.cm-editor')) place.current?.scrollIntoView({ block: 'nearest', behavior: 'instant' });
  }, [drawing]);
  if (!measure) return null;
  const { staffTop, staffBottom } = drawing;
  const where = { left: `${measure.left}%`, width: `${measure.right - measure.left}%`, top: `${staffTop}%`, height: `${staffBottom - staffTop}%` };
  return html`<span class="sounding" data-bar=${measure.id} aria-hidden="true" ref=${place} style=${where}></span>`;
}
