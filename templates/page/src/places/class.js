import { html } from '../html.js';
export const Class = () => html`<main id="sheet" class="desk"><h1>Class</h1></main>`;
