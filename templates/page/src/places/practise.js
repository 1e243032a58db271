import { html } from '../html.js';
export const Practise = () => html`<main id="sheet" class="desk"><h1>Practise</h1></main>`;
