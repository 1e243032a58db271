// The notes of a scale on a small staff, upward from the root.
import { html, useMemo } from '../html.js';
import { useDrawings } from './score.js';
import { System } from './score.js';

const kSteps = 'CDEFGAB';
const kAccidental = { '': '', b: 'f', bb: 'ff', '#': 's', '##': 'x' };

// Each note above the one before; the first in the lower half of the staff.
function withOctaves(names) {
  let octave = 'GAB'.includes(names[0]?.[0]) ? 3 : 4;
  let before = -1;
  return names.map((name) => {
    const step = kSteps.indexOf(name[0]);
    if (step <= before) octave += 1;
    before = step;
    return { pname: name[0].toLowerCase(), oct: octave, accid: kAccidental[name.slice(1).replace(/♭/g, 'b').replace(/♯/g, '#')] ?? '' };
  });
}

function scaleMei(names) {
  const notes = withOctaves([...names, names[0]])
    .map(({ pname, oct, accid }) => `<note dur="4" stem.visible="false" pname="${pname}" oct="${oct}"${accid ? ` accid="${accid}"` : ''}/>`)
    .join('');
  return `<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.0"><meiHead><fileDesc><titleStmt><title/></titleStmt><pubStmt/></fileDesc></meiHead><music><body><mdiv><score><scoreDef><staffGrp><staffDef n="1" lines="5" clef.shape="G" clef.line="2"/></staffGrp></scoreDef><section><measure right="invis"><staff n="1"><layer n="1">${notes}</layer></staff></measure></section></score></mdiv></body></music></mei>`;
}

export function ScaleStaff({ notes, width = 250, staff = 20 }) {
  const score = useMemo(() => (notes?.length ? scaleMei(notes) : null), [notes?.join()]);
  const { systems } = useDrawings(score && { score, form: 'mei', staff, width });
  return html`<span class="scalestaff">${systems.map((drawing, i) => html`<${System} key=${i} drawing=${drawing} />`)}</span>`;
}
