// The page: head line, the place that the address names, foot line.
import { html, render, useEffect, useState } from './html.js';
import { followLinks, go, tunePath, classPath, useWhere } from './address.js';
import { recall, remember } from './device.js';
import { listen, useKeys } from './keys.js';
import { get } from './net.js';
import { setVoices } from './voice.js';
import { warmUp } from './engraver.js';
import { Shared } from './shared.js';
import { Head } from './parts/head.js';
import { FaultLine } from './parts/controls.js';
import { KeySheet } from './parts/key_sheet.js';
import { Defs } from './parts/defs.js';
import { Tunes } from './places/tunes.js';
import { Write } from './places/write.js';
import { Practise } from './places/practise.js';
import { Today } from './places/today.js';
import { Paper } from './places/paper.js';
import { Class } from './places/class.js';

const kPlaces = { tunes: Tunes, write: Write, practise: Practise, today: Today, paper: Paper, class: Class };
const kLights = ['device', 'day', 'night', 'stage'];

function applyLight(light) {
  if (light === 'device') delete document.documentElement.dataset.light;
  else document.documentElement.dataset.light = light;
}

function useLight() {
  const [light, set] = useState(() => recall('light', 'device'));
  useEffect(() => applyLight(light), [light]);
  return [light, (next) => (remember('light', next), set(next))];
}

// What the whole page needs to know, asked once; `again` asks for the state anew.
function useFacts() {
  const [facts, set] = useState({ state: null, words: null, fault: null });
  const again = () =>
    Promise.all([get('/api/state'), get('/api/words')]).then(
      ([state, words]) => set({ state, words, fault: null }),
      (fault) => set((now) => ({ ...now, fault })),
    );
  useEffect(() => void again(), []);
  return { ...facts, again };
}

function Page() {
  const at = useWhere();
  const facts = useFacts();
  const [light, setLight] = useLight();
  const [stand, setStandNow] = useState(() => recall('stand', null));
  const [keysOpen, setKeysOpen] = useState(false);
  const setStand = (tune) => {
    setStandNow(tune);
    remember('stand', tune);
  };
  const toSheet = (sheet) => stand && (() => go(tunePath(stand.name, sheet)));
  useKeys({
    tunes: () => go('/tunes'),
    today: () => go('/today'),
    class: () => go(classPath(recall('roster'))),
    write: toSheet('write'),
    practise: toSheet('practise'),
    paper: toSheet('paper'),
    stage: () => setLight(light === 'stage' ? 'device' : 'stage'),
    keys: () => setKeysOpen(true),
  });
  useEffect(() => {
    if (at.tune && at.tune !== stand?.name) setStand({ name: at.tune, title: at.tune });
  }, [at.tune]);
  useEffect(() => {
    window.scrollTo(0, 0);
  }, [at.place, at.tune, at.roster]);

  const Place = kPlaces[at.place];
  const shared = { ...facts, at, stand, setStand };
  return html`<${Shared.Provider} value=${shared}>
    <${Defs} />
    <a class="skip" href="#sheet">To the sheet</a>
    <${Head} at=${at} stand=${stand} light=${light} lights=${kLights} setLight=${setLight} openKeys=${() => setKeysOpen(true)} />
    ${facts.fault ? html`<main id="sheet" class="desk"><${FaultLine} fault=${facts.fault} again=${facts.again} /></main>`
      : facts.state && html`<${Place} key=${`${at.place} ${at.tune ?? ''} ${at.roster ?? ''}`} />`}
    ${keysOpen && html`<${KeySheet} close=${() => setKeysOpen(false)} />`}
  <//>`;
}

// Outside of what is drawn anew, so that a reader hears what is put there.
function addVoices() {
  const voices = ['status', 'alert'].map((role) => {
    const region = document.createElement('div');
    region.className = 'vh';
    region.setAttribute('role', role);
    document.body.append(region);
    return region;
  });
  setVoices(...voices);
}

applyLight(recall('light', 'device'));
const root = document.createElement('div');
root.id = 'page';
document.body.append(root);
addVoices();
addEventListener('click', followLinks);
listen();
warmUp();
render(html`<${Page} />`, root);
