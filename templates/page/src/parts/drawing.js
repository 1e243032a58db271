// What stands where in a drawing of the engraver: numbers in hundredths of its width or height, so they hold at any size.
const kTranslate = /translate\((-?[\d.]+),\s*(-?[\d.]+)\)/;

const xOf = (element) => {
  const use = element.querySelector('use');
  const match = use && kTranslate.exec(use.getAttribute('transform') ?? '');
  return match ? Number(match[1]) : null;
};

// The staff lines: [left, right, y] of each.
function linesOf(staff) {
  return [...staff.children]
    .filter((child) => child.localName === 'path')
    .map((path) => /M(-?[\d.]+) (-?[\d.]+) L(-?[\d.]+)/.exec(path.getAttribute('d')))
    .filter(Boolean)
    .map((match) => [Number(match[1]), Number(match[3]), Number(match[2])]);
}

function measureOf(element, width) {
  const staff = element.querySelector('.staff');
  const lines = staff ? linesOf(staff) : [];
  // Where its first notes begin, their accidentals with them.
  const signs = element.querySelector('.layer .note, .layer .chord');
  const begins = signs ? Math.min(...[...signs.querySelectorAll('.accid')].map(xOf).filter((x) => x !== null), xOf(signs) ?? width) : null;
  const beats = [...element.querySelectorAll('.layer .note, .layer .rest, .layer .mRest')].map(xOf).filter((x) => x !== null);
  return {
    id: element.id,
    left: (100 * (lines[0]?.[0] ?? 0)) / width,
    right: (100 * (lines[0]?.[1] ?? width)) / width,
    beats: beats.map((x) => (100 * x) / width),
    begins: begins === null ? null : (100 * begins) / width,
    lines,
  };
}

/** @param {string} svg of one system */
export function readDrawing(svg) {
  const doc = new DOMParser().parseFromString(svg, 'image/svg+xml');
  const node = document.importNode(doc.documentElement, true);
  node.removeAttribute('id');
  node.removeAttribute('width');
  node.removeAttribute('height');
  node.setAttribute('class', 'mus');
  node.setAttribute('aria-hidden', 'true');
  node.setAttribute('focusable', 'false');
  const inner = node.querySelector('.definition-scale');
  inner.removeAttribute('color');
  inner.removeAttribute('font-family');
  const [, , width, height] = inner.getAttribute('viewBox').split(' ').map(Number);
  const notes = new Map();
  for (const note of node.querySelectorAll('.note, .rest, .mRest')) {
    const x = xOf(note);
    if (x !== null) notes.set(note.id, (100 * x) / width);
  }
  const elements = [...node.querySelectorAll('.measure')];
  const measures = elements.map((one) => measureOf(one, width));
  const harms = elements.flatMap((element, measure) =>
    [...element.querySelectorAll('.harm > text')].map((text) => ({
      measure,
      x: (100 * Number(text.getAttribute('x'))) / width,
      y: (100 * Number(text.getAttribute('y'))) / height,
    })),
  );
  const ys = measures.flatMap((one) => one.lines.map((line) => line[2]));
  return {
    node,
    notes,
    harms,
    measures,
    staffTop: (100 * Math.min(...ys)) / height,
    staffBottom: (100 * Math.max(...ys)) / height,
  };
}
