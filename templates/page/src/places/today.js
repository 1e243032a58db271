import { html } from '../html.js';
export const Today = () => html`<main id="sheet" class="desk"><h1>Today</h1></main>`;
