// What others changed: another tab, the command line. Asks seldom, and not while nobody looks.
import { useEffect, useRef } from './html.js';
import { get } from './net.js';

/** Calls act(news, before) when one of the members named by `of` changes. */
export function useNews(of, act, { everySeconds = 3 } = {}) {
  const latest = useRef(act);
  latest.current = act;
  useEffect(() => {
    let before = null;
    let timer = null;
    let over = false;
    const look = async () => {
      if (document.visibilityState === 'visible') {
        try {
          const { news } = await get('/api/news');
          if (before && !over && of.some((name) => news[name] !== before[name])) latest.current(news, before);
          before = news;
        } catch {
          // The next look tells; what the player asks for says by itself that nobody answers.
        }
      }
      if (!over) timer = setTimeout(look, 1000 * everySeconds);
    };
    look();
    return () => {
      over = true;
      clearTimeout(timer);
    };
  }, []);
}
