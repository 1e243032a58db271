// Hear and Stop as a component sees them: what sounds, what is being made, the caution before the first sound.
import { useEffect, useRef, useState } from './html.js';
import { cautionSeen, hear, makeReady, noteCaution, onSound, sounding, soundingTag, stop } from './sound.js';
import { tellFault } from './voice.js';

const kMakingAfter = 300; // milliseconds before the button says so

/**
 * { sounding, tag, making, caution, fault, start(request, how), stop(), toggle(request, how), agree() }. `caution`: the sentence
 * about the volume is to be shown; agree() starts what was asked for.
 */
export function useHear() {
  const [now, set] = useState({ sounding: sounding(), tag: soundingTag() });
  const [making, setMaking] = useState(false);
  const [fault, setFault] = useState(null);
  const [caution, setCaution] = useState(null);
  const turn = useRef(0);
  useEffect(() => onSound(() => set({ sounding: sounding(), tag: soundingTag() })), []);
  useEffect(() => () => (turn.current++, stop()), []);

  const run = async (request, how) => {
    const mine = ++turn.current;
    setFault(null);
    const timer = setTimeout(() => mine === turn.current && setMaking(true), kMakingAfter);
    try {
      await hear(request, how);
    } catch (problem) {
      if (mine === turn.current) {
        setFault(problem);
        tellFault(problem.message);
      }
    } finally {
      clearTimeout(timer);
      if (mine === turn.current) setMaking(false);
    }
  };
  const start = (request, how) => {
    if (!request.document) return undefined;
    if (!cautionSeen()) {
      // Made while the sentence is read.
      makeReady(request).catch(() => {});
      return setCaution({ request, how });
    }
    return run(request, how);
  };
  const halt = () => {
    turn.current += 1;
    setMaking(false);
    stop();
  };
  return {
    ...now,
    making,
    fault,
    caution: caution !== null,
    cautionTag: caution?.how?.tag ?? null,
    start,
    stop: halt,
    toggle: (request, how) => (sounding() || making ? halt() : caution ? agree() : start(request, how)),
    agree,
    clearFault: () => setFault(null),
  };
  function agree() {
    if (!caution) return;
    noteCaution();
    setCaution(null);
    run(caution.request, caution.how);
  }
}
