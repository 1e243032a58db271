// A chart that is being written: loaded, saved after each pause, never over what somebody else wrote in between; text that is
// not saved survives a closed tab.
import { recall, remember } from './device.js';
import { get, send } from './net.js';

const kPause = 1000; // milliseconds without typing
const kAgain = 3000;

/** Reports every change of its state to `onState`: { saved: 'saved'|'waits'|'fails', note, outside } */
export class ChartFile {
  constructor(name, onState) {
    this.path = `/api/tunes/${encodeURIComponent(name)}`;
    this.draft = `draft.${name}`;
    this.onState = onState;
    this.revision = null;
    this.kept = null; // the text as the file has it
    this.text = null;
    this.timer = null;
    this.busy = false;
    this.outside = null;
  }

  /** The tune as the server has it; `text` is what to show, which may be newer than the file. */
  async load() {
    const tune = await get(this.path);
    this.revision = tune.revision;
    this.kept = tune.text;
    this.text = tune.text;
    const draft = recall(this.draft);
    if (draft && draft.text !== tune.text) {
      this.text = draft.text;
      if (draft.revision === tune.revision) this.#later(0);
      else this.#report('waits', (this.outside = { text: tune.text, revision: tune.revision, changed: tune.changed }));
    } else {
      remember(this.draft, null);
      this.#report('saved');
    }
    return { ...tune, text: this.text };
  }

  change(text) {
    if (text === this.text) return;
    this.text = text;
    remember(this.draft, { text, revision: this.revision });
    if (this.outside) return;
    this.#report('waits');
    this.#later(kPause);
  }

  /** At once, before one leaves. */
  flush() {
    if (this.text !== this.kept && !this.outside) return this.#save();
    return Promise.resolve();
  }

  /** Somebody else may have written: looks, and takes it where nothing of one's own waits. */
  async look() {
    if (this.busy || this.outside) return null;
    const tune = await get(this.path).catch(() => null);
    if (!tune || tune.revision === this.revision || this.busy) return null;
    if (this.text === this.kept) {
      Object.assign(this, { revision: tune.revision, kept: tune.text, text: tune.text });
      this.#report('saved');
      return tune.text;
    }
    this.#report('waits', (this.outside = { text: tune.text, revision: tune.revision, changed: tune.changed }));
    return null;
  }

  keepMine() {
    this.outside = null;
    return this.#save('*');
  }

  takeTheirs() {
    const { text, revision } = this.outside;
    Object.assign(this, { outside: null, revision, kept: text, text });
    remember(this.draft, null);
    this.#report('saved');
    return text;
  }

  close() {
    clearTimeout(this.timer);
  }

  #report(saved, outside = this.outside, note = '') {
    this.onState({ saved, outside, note });
  }

  #later(wait) {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.#save(), wait);
  }

  async #save(revision = this.revision) {
    clearTimeout(this.timer);
    if (this.busy) return this.#later(100);
    this.busy = true;
    const text = this.text;
    try {
      const answer = await send('PUT', this.path, { text }, { revision, keepalive: text.length < 60000 });
      this.revision = answer.revision;
      this.kept = text;
      if (this.text === text) {
        remember(this.draft, null);
        this.#report('saved');
      } else {
        remember(this.draft, { text: this.text, revision: this.revision });
        this.#later(kPause);
      }
    } catch (fault) {
      if (fault.status === 409) {
        const theirs = fault.said.theirs;
        this.#report('waits', (this.outside = theirs ?? { text: null, revision: '*' }));
      } else {
        this.#report('fails', null, fault.message);
        this.#later(kAgain);
      }
    } finally {
      this.busy = false;
    }
    return undefined;
  }
}
