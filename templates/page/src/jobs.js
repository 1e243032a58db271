// Work on files in the background: asked about while something is being made, in words first.
import { useEffect, useRef, useState } from './html.js';
import { get, send } from './net.js';
import { tell } from './voice.js';

const kEvery = 700; // milliseconds
export const isOpen = (job) => job.state === 'waits' || job.state === 'making';

/** All that is made or being made, newest first: { jobs, fault, make(request), stop(id), forget(id), again() } */
export function useJobs() {
  const [jobs, set] = useState([]);
  const [fault, setFault] = useState(null);
  const timer = useRef(null);
  const told = useRef(new Map());
  const over = useRef(false);
  const look = async () => {
    clearTimeout(timer.current);
    try {
      const { jobs: next } = await get('/api/paper');
      if (over.current) return;
      for (const job of next) tellOf(job);
      set(next);
      if (next.some(isOpen)) timer.current = setTimeout(look, kEvery);
    } catch (problem) {
      if (!over.current) setFault(problem);
    }
  };
  // Every quarter of the way, and when it is over.
  const tellOf = (job) => {
    const quarter = job.state === 'making' ? Math.floor((4 * (job.done ?? 0)) / Math.max(1, job.steps ?? 1)) : job.state;
    if (told.current.has(job.id) && told.current.get(job.id) !== quarter) tell(job.state === 'making' ? `${job.of}: ${job.words}` : `${job.of}: ${job.state}`);
    told.current.set(job.id, quarter);
  };
  useEffect(() => {
    over.current = false;
    look();
    return () => {
      over.current = true;
      clearTimeout(timer.current);
    };
  }, []);
  const attempt = async (act) => {
    try {
      setFault(null);
      const answer = await act();
      await look();
      return answer;
    } catch (problem) {
      setFault(problem);
      return null;
    }
  };
  return {
    jobs,
    fault,
    clearFault: () => setFault(null),
    make: (request) => attempt(() => send('POST', '/api/paper', request)),
    stop: (id) => attempt(() => send('POST', `/api/paper/${id}/stop`)),
    forget: (id) => attempt(() => send('DELETE', `/api/paper/${id}`)),
  };
}
