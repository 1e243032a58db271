// The form of a tune: a line for each section, strokes over a bar for how hard it is, units as brackets under it.
import { html } from '../html.js';
import { barsOf } from './words.js';

const kStrokes = { easy: 0, light: 1, medium: 2, hard: 3 };
const kWidth = 224;
const kLeft = 4;

const strokesOver = (x, count) =>
  Array.from({ length: count }, (_, i) => html`<path d=${`M${x - 2.5 * (count - 1) - 2 + 5 * i} 13.5l4 -9`} stroke-width="1.6" />`);

// The places of units within a section, as bar numbers.
function unitsIn(section, units) {
  const first = section.bars[0].number;
  const last = section.bars.at(-1).number;
  const out = [];
  for (const unit of units) {
    for (const place of unit.places ?? []) {
      const from = Math.max(first, place.first_bar);
      const to = Math.min(last, place.last_bar);
      if (from <= to) out.push({ unit, from, to, whole: `${place.first_bar} ${place.last_bar}` });
    }
  }
  // Brackets that overlap stand under each other.
  const rows = [];
  for (const one of out.sort((a, b) => a.from - b.from || b.to - a.to)) {
    let row = rows.findIndex((end) => end < one.from);
    if (row < 0) row = rows.length;
    rows[row] = one.to;
    one.row = row;
  }
  return { places: out, rows: rows.length };
}

function Section({ section, units, now, address }) {
  const bars = section.bars;
  const step = (kWidth - 2 * kLeft) / Math.max(8, bars.length);
  const x = (index) => kLeft + step * index;
  const first = bars[0].number;
  const { places, rows } = unitsIn(section, units);
  const end = x(bars.length);
  return html`<figure>
    <figcaption>${section.label && html`<span class="letter">${section.label}</span> `}<span class="quiet">${first}</span></figcaption>
    <svg viewBox=${`0 0 ${kWidth} ${36 + 24 * Math.max(1, rows)}`} stroke="currentColor" role="group" aria-label=${`${section.label}, ${barsOf(first, bars.at(-1).number)}`}>
      ${bars.map((bar, i) => html`<path d=${`M${x(i)} 17v12`} stroke-width="1" />${strokesOver(x(i) + step / 2, kStrokes[bar.grade] ?? 0)}`)}
      <path d=${`M${end} 17v12`} stroke-width="2" /><path d=${`M${kLeft} 23H${end}`} stroke-width="1" />
      ${places.map(({ unit, from, to, row }) => {
        const left = x(from - first) + 3;
        const right = x(to - first + 1) - 3;
        const top = 33 + 24 * row;
        return html`<a href=${address(unit)} class=${unit.number === now ? 'pen' : ''} aria-label=${`Unit ${unit.number}, ${unit.name}, ${barsOf(from, to)}, ${unit.grade}`} aria-current=${unit.number === now ? 'true' : undefined}>
          <rect x=${left} y=${top - 3} width=${right - left} height="24" fill="transparent" stroke="none" />
          <path d=${`M${left} ${top}v5H${right}v-5`} fill="none" stroke-width=${unit.number === now ? 3 : 1.2} />
          <text x=${(left + right) / 2} y=${top + 21} text-anchor="middle" font-weight=${unit.number === now ? '700' : undefined}>${unit.number}</text>
        </a>`;
      })}
    </svg>
  </figure>`;
}

/** address(unit): where its bracket leads */
export function Form({ form, units, now, address }) {
  if (!form?.sections?.length) return null;
  return html`<div class="form" role="group" aria-label="Form of the tune with its units">
    ${form.sections.filter((section) => section.bars.length).map((section) => html`<${Section} section=${section} units=${units} now=${now} address=${address} />`)}
  </div>`;
}
