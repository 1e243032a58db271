// What every place may need: who and what (`state`), pick lists (`words`), the address (`at`), the tune on the stand.
import { createContext, useContext } from './html.js';

export const Shared = createContext(null);
export const useShared = () => useContext(Shared);
