// The chart as text: CodeMirror with slips as marks, and a pencil line under the chord where the caret is.
import { Decoration, EditorView, drawSelection, highlightActiveLine, keymap, lineNumbers } from '@codemirror/view';
import { EditorState, StateEffect, StateField, Transaction } from '@codemirror/state';
import { defaultKeymap, history, historyKeymap, redo, redoDepth, undo, undoDepth } from '@codemirror/commands';

const setMarks = StateEffect.define();

const slipMark = (number) => Decoration.mark({ class: 'slipmark', attributes: { title: `slip ${number}` } });
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
    /** Slips: [{ from, to, number }], chord under the caret: { from, to } or null. */
    mark({ slips, here }) {
      const value = {};
      if (slips) {
        value.slips = slips
          .map(({ from, to, number }) => ({ from: clamp(from), to: clamp(Math.max(to, from + 1)), number }))
          .filter(({ from, to }) => to > from)
          .map(({ from, to, number }) => slipMark(number).range(from, to));
      }
      if (here !== undefined) value.here = here && clamp(here.to) > clamp(here.from) ? [hereMark.range(clamp(here.from), clamp(here.to))] : [];
      view.dispatch({ effects: setMarks.of(value) });
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
