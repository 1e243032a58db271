// Words with music in them: accidentals, chord symbols and tempos as signs that are also read aloud.
import { html } from '../html.js';

export const Flat = () => html`<svg class="ac fl" aria-hidden="true"><use href="#fl" /></svg><span class="vh"> flat </span>`;
export const Sharp = () => html`<svg class="ac sh" aria-hidden="true"><use href="#sh" /></svg><span class="vh"> sharp </span>`;

const sign = (letter) => (letter === 'b' || letter === '♭' ? html`<${Flat} />` : html`<${Sharp} />`);

// A note name with accidentals (Ab, F##), or a degree with one (b9, #11, bVI7).
const kSigned = /(?<![A-Za-z])([A-G])([b#♭♯]{1,2})(?!(?!m|dim|aug|sus|alt|add)[a-z])|(?<![A-Za-z#b])([b#♭♯]{1,2})(\d+|[IViv]+\d*)|([♭♯])/g;

/** Numerals and bars are joined by a dash, not by a hyphen: "ii–V", "bars 8–9". */
export const dashed = (text) => text.replace(/\b([ivIV]+)-(?=[ivIV]+\b)/g, '$1–').replace(/\b(bars? [\d, –-]*)/g, (bars) => bars.replace(/(\d)-(?=\d)/g, '$1–'));

/** Text with the letters b and # made signs where they are accidentals. */
export function pretty(plain) {
  if (!plain) return plain ?? '';
  const text = dashed(plain);
  const out = [];
  let at = 0;
  for (const match of text.matchAll(kSigned)) {
    out.push(text.slice(at, match.index));
    const accidentals = [...(match[2] ?? match[3] ?? match[5])].map(sign);
    out.push(html`<span class="nb">${match[1]}${accidentals}${match[4]}</span>`);
    at = match.index + match[0].length;
  }
  out.push(text.slice(at));
  return out;
}

const signs = (text) => [...text].map((letter, i) => (letter === '#' || letter === '♯' || letter === '♭' || (letter === 'b' && /\d/.test(text[i + 1] ?? '')) ? sign(letter) : letter));

const kSymbol = /^([A-G])([b#♭♯]*)(.*?)(?:\/([A-G])([b#♭♯]*))?$/;
const kSuffix = /^(maj|min|dim|aug|sus|add|m)?(.*)$/;

/** A chord symbol as on paper: the root large, the rest smaller and raised. */
export function ChordName({ symbol }) {
  const match = kSymbol.exec(symbol);
  if (!match) return html`<span class="cs"><span class="q">${symbol}</span></span>`;
  const [, root, accidental, rest, bass, bassAccidental] = match;
  const [, quality, figures] = kSuffix.exec(rest);
  const plain = figures.replace(/[()]/g, '').replace(/,/g, ' ');
  return html`<span class="cs"
    ><span class="r">${root}${signs(accidental.replace(/b/g, '♭'))}</span>${quality && html`<span class="q">${quality}</span>`}${plain &&
    html`<span class="f">${signs(plain)}</span>`}${bass && html`<span class="r">/${bass}${signs(bassAccidental.replace(/b/g, '♭'))}</span>`}</span
  >`;
}

/** A chord symbol as a reader says it. */
export const spoken = (text) => (text ?? '').replace(/([A-G])b/g, '$1 flat ').replace(/♭|b(?=\d)/g, ' flat ').replace(/[#♯]/g, ' sharp ').replace(/\s+/g, ' ').trim();

// What is drawn of a beat that a metronome counts; others are said in words.
const kBeats = {
  half: { hollow: true },
  quarter: {},
  eighth: { flag: true },
};

export function NoteSign({ beat }) {
  const { hollow, flag } = kBeats[beat.replace('dotted ', '')];
  return html`<svg class="qn" aria-hidden="true" viewBox="0 0 ${flag || beat.startsWith('dotted') ? 17 : 12} 30">
  <ellipse cx="4.6" cy="25.6" rx=${hollow ? 3.9 : 4.6} ry=${hollow ? 2.5 : 3.4} transform="rotate(-22 4.6 25.6)" fill=${hollow ? 'none' : undefined} stroke=${hollow ? 'currentColor' : undefined} stroke-width="1.6" />
  <path d="M8.3 25V1h1.3v24z" />
  ${flag && html`<path d="M9 1c.6 4 6.4 5.6 4.6 12.4C13.5 9.5 10.6 8.2 9 7.6z" />`}
  ${beat.startsWith('dotted') && html`<circle cx="14" cy="25" r="1.9" />`}
</svg>`;
}

/** A metronome mark. beat: what it counts, as the server says it ("dotted quarter"). */
export function Tempo({ at, beat = 'quarter' }) {
  const isDrawn = beat.replace('dotted ', '') in kBeats;
  return html`<span class="mm"><span class=${isDrawn ? 'vh' : ''}>${beat} note = </span>${isDrawn && html`<${NoteSign} beat=${beat} /><span aria-hidden="true"> = </span>`}${at}</span>`;
}

/** "bars 29–32", "bar 7". */
export const barsOf = (first, last) => (first === last ? `bar ${first}` : `bars ${first}–${last}`);

/** Bars of a drill as it says them everywhere: from 1, a pickup is 0. */
export const barNumber = (index, pickup) => index + (pickup ? 0 : 1);

export const plural = (count, one, many = `${one}s`) => `${count} ${count === 1 ? one : many}`;

/** A section of a book: a unit with the key of its hardest place; a plain word begins with a capital. */
export function nameOf(section) {
  const name = /^[a-z]{3,}/.test(section.name) && !/^[iv]+\b/.test(section.name) ? section.name.charAt(0).toUpperCase() + section.name.slice(1) : section.name;
  const key = section.kind === 'unit' ? section.places?.[0]?.key : null;
  const joined = dashed(name);
  return key ? `${joined} in ${key}` : joined;
}
