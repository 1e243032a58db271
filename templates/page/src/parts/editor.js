// The chart as text: CodeMirror with slips as marks, and a pencil line under the chord where the caret is.
import { Decoration, EditorView, GutterMarker, WidgetType, drawSelection, highlightActiveLine, keymap, lineNumbers, lineNumberMarkers } from '@codemirror/view';
import { EditorState, RangeSet, StateEffect, StateField, Transaction } from '@codemirror/state';
import { defaultKeymap, history, historyKeymap, redo, redoDepth, undo, undoDepth } from '@codemirror/commands';

const setMarks = StateEffect.define();

const slipMark = (number) => Decoration.mark({ class: 'slipmark', attributes: { title: `slip ${number}` } });
// What is wrong, under its own line.
class SlipNote extends WidgetType {
  constructor(number, message) {
    super();
    Object.assign(this, { number, message });
  }
  eq(other) {
    return other.number === this.number && other.message === this.message;
  }
  toDOM() {
    const note = document.createElement('div');
    note.className = 'slipnote';
    note.setAttribute('aria-hidden', 'true'); // read out below the chart
    note.textContent = `slip ${this.number}: ${this.message}`;
    return note;
  }
}

// Beside its line, in place of the number.
class SlipSign extends GutterMarker {
  constructor(line) {
    super();
    this.line = line;
    this.elementClass = 'slipsign';
  }
  eq(other) {
    return other.line === this.line;
  }
  toDOM() {
    return document.createTextNode(`! ${this.line}`);
  }
}

function decorationsOf(doc, { from, to, number, message }) {
  const end = doc.lineAt(from).to;
  const out = [slipMark(number).range(from, to)];
  if (message) out.push(Decoration.widget({ widget: new SlipNote(number, message), block: true, side: 1 }).range(end));
  return out;
}

const setSigns = StateEffect.define();
const signField = StateField.define({
  create: () => RangeSet.empty,
  update(signs, transaction) {
    for (const effect of transaction.effects) if (effect.is(setSigns)) return effect.value;
    return signs.map(transaction.changes);
  },
  provide: (field) => lineNumberMarkers.from(field),
});

function signsOf(doc, slips) {
  const lines = [...new Set(slips.map(({ from }) => doc.lineAt(from).number))].sort((a, b) => a - b);
  return RangeSet.of(lines.map((line) => new SlipSign(line).range(doc.line(line).from)));
}

const hereMark = Decoration.mark({ class: 'heremark' });

const markField = (name) =>
  StateField.define({
    create: () => Decoration.none,
    update(marks, transaction) {
      let next = marks.map(transaction.changes);
      for (const effect of transaction.effects) {
        if (effect.is(setMarks) && effect.value[name]) next = Decoration.set(effect.value[name], true);
      }
      return next;
    },
    provide: (field) => EditorView.decorations.from(field),
  });
const slipField = markField('slips');
const hereField = markField('here');

// Undone step by step as typed, but what the page writes is a step of its own.
const ownStep = Transaction.addToHistory.of(true);

/**
 * @param {{parent: HTMLElement, text: string, label: string, readOnly: boolean, onText: (text: string) => void,
 *   onCaret: (at: number) => void, onSlip: (way: -1|1) => boolean, onTake: () => boolean}} options
 */
export function makeEditor({ parent, text, label, readOnly, onText, onCaret, onSlip, onTake }) {
  const nonce = document.querySelector('meta[name=csp-nonce]')?.content ?? '';
  const view = new EditorView({
    parent,
    state: EditorState.create({
      doc: text,
      extensions: [
        EditorView.cspNonce.of(nonce),
        EditorState.readOnly.of(readOnly),
        lineNumbers(),
        history(),
        drawSelection(),
        highlightActiveLine(),
        EditorView.lineWrapping,
        slipField,
        signField,
        hereField,
        EditorView.contentAttributes.of({
          'aria-label': label,
          'aria-describedby': 'slips',
          spellcheck: 'false',
          autocorrect: 'off',
          autocapitalize: 'off',
          translate: 'no',
        }),
        keymap.of([
          { key: 'Alt-ArrowUp', run: () => onSlip(-1) },
          { key: 'Alt-ArrowDown', run: () => onSlip(1) },
          { key: 'Alt-Enter', run: () => onTake() },
          ...historyKeymap,
          ...defaultKeymap.filter((binding) => binding.key !== 'Tab'),
        ]),
        EditorView.updateListener.of((update) => {
          if (update.docChanged) onText(update.state.doc.toString());
          if (update.docChanged || update.selectionSet) onCaret(update.state.selection.main.head);
        }),
      ],
    }),
  });
  const length = () => view.state.doc.length;
  const clamp = (at) => Math.max(0, Math.min(at, length()));
  return {
    view,
    text: () => view.state.doc.toString(),
    caret: () => view.state.selection.main.head,
    /** Slips: [{ from, to, number, message }], chord under the caret: { from, to } or null. */
    mark({ slips, here }) {
      const value = {};
      let there = null;
      if (slips) {
        there = slips.map((slip) => ({ ...slip, from: clamp(slip.from), to: clamp(Math.max(slip.to, slip.from + 1)) })).filter(({ from, to }) => to > from);
        value.slips = there.flatMap((slip) => decorationsOf(view.state.doc, slip));
      }
      if (here !== undefined) value.here = here && clamp(here.to) > clamp(here.from) ? [hereMark.range(clamp(here.from), clamp(here.to))] : [];
      view.dispatch({ effects: [setMarks.of(value), ...(there ? [setSigns.of(signsOf(view.state.doc, there))] : [])] });
    },
    /** Writes over a place, as a step that can be undone; the caret stands behind it. */
    write(from, to, insert) {
      view.dispatch({
        changes: { from: clamp(from), to: clamp(to), insert },
        selection: { anchor: clamp(from) + insert.length },
        annotations: ownStep,
        scrollIntoView: true,
      });
    },
    /** Another text in place of this one, changing no more than differs. */
    replaceAll(next) {
      const now = view.state.doc.toString();
      if (now === next) return;
      let start = 0;
      while (start < now.length && start < next.length && now[start] === next[start]) start += 1;
      let end = 0;
      while (end < now.length - start && end < next.length - start && now[now.length - 1 - end] === next[next.length - 1 - end]) end += 1;
      view.dispatch({ changes: { from: start, to: now.length - end, insert: next.slice(start, next.length - end) }, annotations: ownStep });
    },
    goTo(at) {
      view.dispatch({ selection: { anchor: clamp(at) }, scrollIntoView: true });
      view.focus();
    },
    focus: () => view.focus(),
    undo: () => undo(view),
    redo: () => redo(view),
    canUndo: () => undoDepth(view.state) > 0,
    canRedo: () => redoDepth(view.state) > 0,
    destroy: () => view.destroy(),
  };
}
