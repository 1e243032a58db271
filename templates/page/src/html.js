// The component library in one place: preact with htm, no compile step.
import { h } from 'preact';
import htm from 'htm';

export const html = htm.bind(h);
export { Fragment, createContext, render } from 'preact';
export { useCallback, useContext, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
