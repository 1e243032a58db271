import { html } from '../html.js';
export const Paper = () => html`<main id="sheet" class="desk"><h1>Paper</h1></main>`;
