// Where one is: the address says it all, so that Back works and a bookmark is a drill.
import { useEffect, useState } from './html.js';

const kSheets = ['write', 'practise', 'paper'];
const changed = new EventTarget();
let leaving = null;

/** { place: 'tunes'|'today'|'class'|'write'|'practise'|'paper', tune, roster, values } */
export function where() {
  const parts = location.pathname.split('/').filter(Boolean).map(decodeURIComponent);
  const values = Object.fromEntries(new URLSearchParams(location.search));
  if (parts[0] === 'tune' && parts[1]) {
    return { place: kSheets.includes(parts[2]) ? parts[2] : 'write', tune: parts[1], values };
  }
  if (parts[0] === 'class') return { place: 'class', roster: parts[1] ?? null, values };
  if (parts[0] === 'today') return { place: 'today', values };
  return { place: 'tunes', values };
}

export const tunePath = (name, sheet) => `/tune/${encodeURIComponent(name)}/${sheet}`;
export const classPath = (name) => (name ? `/class/${encodeURIComponent(name)}` : '/class');

/** Called before one goes elsewhere; the last that asked for it counts. */
export function onLeave(act) {
  leaving = act;
  return () => {
    if (leaving === act) leaving = null;
  };
}

export function go(path, { replace = false } = {}) {
  if (path === location.pathname + location.search) return;
  if (path.split('?')[0] !== location.pathname) leaving?.();
  history[replace ? 'replaceState' : 'pushState'](null, '', path);
  changed.dispatchEvent(new Event('change'));
}

/** Other values behind the "?" of the same place. */
export function goValues(values, { replace = false } = {}) {
  const next = new URLSearchParams(location.search);
  for (const [name, value] of Object.entries(values)) {
    if (value === null || value === undefined || value === '') next.delete(name);
    else next.set(name, value);
  }
  const text = next.toString();
  go(location.pathname + (text ? `?${text}` : ''), { replace });
}

export function useWhere() {
  const [at, set] = useState(where);
  useEffect(() => {
    const look = () => set(where());
    const back = () => {
      leaving?.();
      look();
    };
    changed.addEventListener('change', look);
    addEventListener('popstate', back);
    return () => {
      changed.removeEventListener('change', look);
      removeEventListener('popstate', back);
    };
  }, []);
  return at;
}

/** Links within the page do not load it anew. */
export function followLinks(event) {
  const link = event.target.closest?.('a[href]');
  if (!link || event.defaultPrevented || event.button !== 0) return;
  if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
  if (link.origin !== location.origin || link.hasAttribute('download') || link.target) return;
  if (link.pathname.startsWith('/api/') || link.getAttribute('href').startsWith('#')) return;
  event.preventDefault();
  go(link.pathname + link.search);
}
