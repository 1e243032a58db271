import { html } from '../html.js';
export const Write = () => html`<main id="sheet" class="desk"><h1>Write</h1></main>`;
