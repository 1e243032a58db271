// The engraver in a thread of its own. Takes scores (MusicXML or MEI), gives one drawing a system. A strict content policy
// refuses styles within drawings, so these are left out and stand in style/notation.css.
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';

const ready = createVerovioModule().then((module) => new VerovioToolkit(module));

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
  mnumInterval: 999,
  minLastJustification: 0,
  systemMaxPerPage: 1,
  outputIndent: 0,
  svgFormatRaw: true,
};

const withoutStyles = (svg) => svg.replace(/<style[^>]*>[^]*?<\/style>/g, '').replace(/ style="[^"]*"/g, '');

// How many units of a page one pixel is: a staff of five lines is eight units of nine hundredths high.
function options({ staff, width, breaks, loopBegins }) {
  const scale = Math.round((100 * staff) / 72);
  return {
    ...kOptions,
    scale,
    pageWidth: Math.max(200, Math.round((100 * width) / scale)),
    breaks,
    ...(loopBegins ? { rightMarginKeySig: 2 } : { rightMarginKeySig: 1 }),
  };
}

async function engrave({ score, form, staff, width, breaks = 'auto', loopBegins = false, times = false }) {
  const toolkit = await ready;
  toolkit.resetOptions();
  toolkit.setOptions({ ...options({ staff, width, breaks, loopBegins }), inputFrom: form, xmlIdChecksum: false });
  if (!toolkit.loadData(score)) throw new Error('the engraver cannot read this score');
  const systems = [];
  for (let page = 1; page <= toolkit.getPageCount(); ++page) systems.push(withoutStyles(toolkit.renderToSVG(page, false)));
  return { systems, times: times ? toolkit.renderToTimemap({ includeMeasures: true }) : null };
}

let last = Promise.resolve();
self.onmessage = ({ data }) => {
  last = last.then(async () => {
    try {
      self.postMessage({ id: data.id, ...(await engrave(data.work)) });
    } catch (fault) {
      self.postMessage({ id: data.id, fault: String(fault?.message ?? fault) });
    }
  });
};
ready.then(
  () => self.postMessage({ id: 0 }),
  (fault) => self.postMessage({ id: 0, fault: String(fault) }),
);
