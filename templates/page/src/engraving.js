// From scores (MusicXML or MEI) to one drawing a system. A strict content policy refuses styles within drawings, so these are
// left out and stand in style/notation.css.
import createVerovioModule from 'verovio/wasm';
import { LOG_ERROR, VerovioToolkit, enableLog } from 'verovio/esm';

/** Takes a moment: the engraver is large. */
export async function newToolkit() {
  const module = await createVerovioModule();
  enableLog(LOG_ERROR, module);
  return new VerovioToolkit(module);
}

const kOptions = {
  font: 'Leland',
  header: 'none',
  footer: 'none',
  adjustPageHeight: true,
  pageHeight: 60000,
  pageMarginLeft: 0,
  pageMarginRight: 0,
  pageMarginTop: 0,
  pageMarginBottom: 0,
  svgViewBox: true,
  smuflTextFont: 'none',
  mnumInterval: 64,
  minLastJustification: 0,
  systemMaxPerPage: 1,
  spacingLinear: 0.2,
  spacingNonLinear: 0.5,
  outputIndent: 1,
  svgFormatRaw: true,
};

const withoutStyles = (svg) => svg.replace(/<style[^>]*>[^]*?<\/style>/g, '').replace(/ style="[^"]*"/g, '');

// A staff of five lines is 72 pixels high at a scale of 100.
function options({ staff, width, breaks, meter = true }) {
  const scale = Math.max(10, Math.round((100 * staff) / 72));
  // Where the meter is left out a loop may begin, whose pencil bars stand behind the key.
  const room = meter ? {} : { rightMarginKeySig: 2, rightMarginClef: 2, leftMarginLeftBarLine: 2, rightMarginLeftBarLine: 2 };
  return { ...kOptions, ...room, scale, pageWidth: Math.max(200, Math.round((100 * width) / scale)), breaks };
}

const kMeasure = /<measure\s[^>]*>/g;

// MusicXML whose lines begin at these bars (counted from 0) and nowhere else. Each is a page, so that each is a drawing.
function brokenAt(score, starts) {
  let index = -1;
  return score.replace(/ new-(system|page)="yes"/g, '').replace(kMeasure, (tag) => {
    index += 1;
    return starts.has(index) && index > 0 ? `${tag}<print new-page="yes"/>` : tag;
  });
}

const countOf = (text, pattern) => (text.match(pattern) ?? []).length;
const measuresIn = (svg) => countOf(svg, /class="measure"/g);

// So many bars a line from each section on; a pickup does not count.
function evenStarts(bars, perSystem, sections, pickup) {
  const starts = new Set();
  let since = pickup ? -1 : 0;
  for (let bar = 0; bar < bars; ++bar) {
    if (sections.includes(bar) && bar > (pickup ? 1 : 0)) since = 0;
    if (since > 0 && since % perSystem === 0) starts.add(bar);
    if (since === 0 && bar > (pickup ? 1 : 0)) starts.add(bar);
    since += 1;
  }
  return starts;
}

// Without the names of parts: on the page the sheet's title says who plays.
const withoutNames = (score) => score.replace(/<part-(name|abbreviation)[^>]*>[^<]*<\/part-\1>/g, '<part-$1/>');

// Without the tempo and feel over the first bar, which the sheet prints in its title.
const withoutTempo = (score) => score.replace(/<direction\b(?:(?!<\/direction>)[^])*?<metronome[^]*?<\/direction>/g, '');

// Without the meter, which everybody knows who plays a drill of a tune.
const withoutMeter = (score) => score.replace(/<time(?=[\s>])(?![^>]*print-object)/g, '<time print-object="no"');

// With a bar line that is not seen before the first note: the engraver leaves the room for it behind the key, on small staves too.
const withLoopRoom = (score) => score.replace(/(<measure\s[^>]*>[^]*?<\/attributes>)/, '$1<barline location="left"><bar-style>none</bar-style></barline>');

function draw(toolkit) {
  const systems = [];
  for (let page = 1; page <= toolkit.getPageCount(); ++page) systems.push(withoutStyles(toolkit.renderToSVG(page, false)));
  return systems;
}

function load(toolkit, score, form, work, breaks) {
  toolkit.resetOptions();
  toolkit.setOptions({ ...options({ ...work, breaks }), inputFrom: form });
  if (!toolkit.loadData(score)) throw new Error('the engraver cannot read this score');
  return draw(toolkit);
}

// One score for each line of a part, so that a change draws one line anew and not all. Null where a line cannot stand alone.
function scoresOfLines(score, starts) {
  const bars = score.match(/<measure\s[^>]*>[^]*?<\/measure>/g) ?? [];
  if ((score.match(/<part\s/g) ?? []).length !== 1 || !bars.length) return null;
  const head = score.slice(0, score.indexOf(bars[0]));
  const standing = new Map(); // the attributes in force
  const lines = [];
  bars.forEach((bar, index) => {
    const begins = index === 0 || starts.has(index);
    const own = /^(<measure\s[^>]*>\s*(?:<print\b[^>]*(?:\/>|>[^]*?<\/print>)\s*)?)<attributes>([^]*?)<\/attributes>/.exec(bar);
    for (const [all, name] of (own?.[2] ?? '').matchAll(/<(divisions|key|time|staves|clef|transpose)\b[^]*?<\/\1>/g)) standing.set(name, all);
    if (!begins) {
      lines.at(-1).push(bar);
      return;
    }
    const meter = standing.get('time') ?? '';
    const shown = index === 0 || /<time\b/.test(own?.[2] ?? '') ? meter : meter.replace(/^<time\b/, '<time print-object="no"');
    const attributes = ['divisions', 'key', 'time', 'staves', 'clef', 'transpose'].map((name) => (name === 'time' ? shown : (standing.get(name) ?? ''))).join('');
    const rest = own ? bar.slice(own[0].length) : bar.replace(/^<measure\s[^>]*>/, '');
    const open = own ? own[1] : /^<measure\s[^>]*>/.exec(bar)[0];
    lines.push([`${open}<attributes>${attributes}</attributes>${rest}`]);
  });
  const texts = lines.map((line) => line.join(''));
  const isWhole = (text) => countOf(text, /<ending[^>]*type="start"/g) === countOf(text, /<ending[^>]*type="(stop|discontinue)"/g) && !/<(tied|slur)\b/.test(text);
  return texts.every(isWhole) ? texts.map((text) => `${head}${text}</part></score-partwise>`) : null;
}

const keptLines = new Map();
const kKeptLines = 400;

function lineOf(toolkit, score, work) {
  const key = `${work.width} ${work.staff} ${score}`;
  let svg = keptLines.get(key);
  if (!svg) {
    svg = load(toolkit, score, 'musicxml', work, 'encoded')[0];
    keptLines.set(key, svg);
    if (keptLines.size > kKeptLines) keptLines.delete(keptLines.keys().next().value);
  }
  return svg;
}

function inLines(toolkit, score, work, starts) {
  const scores = work.times ? null : scoresOfLines(score.replace(/ new-(system|page)="yes"/g, ''), starts);
  if (scores) return scores.map((line) => lineOf(toolkit, line, work));
  return load(toolkit, brokenAt(score, starts), 'musicxml', work, 'encoded');
}

// Chord symbols are words of the page over the drawing (parts/score.js), of which the engraver knows nothing but where they begin.
const kSymbolSize = (width) => (width < 700 ? 17 : 20); // pixels, as style/notation.css has it
const kLetter = 0.62; // of that size, in the middle of roots and suffixes
const kSymbolGap = 5;
const kHarm = /class="harm"[^>]*>\s*<text x="(-?[\d.]+)"[^>]*>([^]*?)<\/text>/g;

function hasRoomForSymbols(svg, { width }) {
  const units = Number(/<svg(?=[^>]*definition-scale)[^>]*viewBox="0 0 ([\d.]+)/.exec(svg)?.[1] ?? 0);
  const pixel = units / width;
  const letter = kSymbolSize(width) * kLetter * pixel;
  const symbols = [...svg.matchAll(kHarm)].map(([, x, text]) => ({ x: Number(x), letters: text.replace(/<[^>]*>|\s/g, '').length })).sort((a, b) => a.x - b.x);
  return symbols.every(({ x, letters }, i) => x + letter * letters <= (symbols[i + 1]?.x - kSymbolGap * pixel || units));
}

// Lines of eight, four or two bars, as many as fit with the chord symbols over them; else what fits.
const kEven = [8, 4, 2, 1];

function evenly(toolkit, score, work) {
  const free = load(toolkit, brokenAt(score, new Set()), 'musicxml', work, 'auto');
  const hasRoom = (systems) => systems.every((svg) => hasRoomForSymbols(svg, work));
  if (free.length < 2 && hasRoom(free)) return free;
  const counts = free.map(measuresIn);
  const bars = counts.reduce((sum, count) => sum + count, 0);
  const fewest = free.length < 2 ? bars - 1 : Math.min(...counts.slice(0, -1));
  let systems = free;
  for (const perSystem of kEven.filter((even) => even <= Math.max(1, fewest))) {
    systems = load(toolkit, brokenAt(score, evenStarts(bars, perSystem, [], work.pickup)), 'musicxml', work, 'encoded');
    if (hasRoom(systems)) break;
  }
  return systems;
}

/** @param work as engraver.js takes it */
export function engraveOn(toolkit, work) {
  const { form, perSystem, sections = [], pickup = false, times = false, names = false, meter = true } = work;
  const named = withoutTempo(names ? work.score : withoutNames(work.score));
  const score = meter ? named : withLoopRoom(withoutMeter(named));
  let systems;
  if (form === 'mei') systems = load(toolkit, score, 'mei', work, 'auto');
  else if (perSystem) {
    const starts = evenStarts(countOf(score, kMeasure), perSystem, sections, pickup);
    systems = inLines(toolkit, score, work, starts);
  } else systems = evenly(toolkit, score, work);
  return { systems, times: times ? toolkit.renderToTimemap({ includeMeasures: true, includeRests: true }) : null };
}
