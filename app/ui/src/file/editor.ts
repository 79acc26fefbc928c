// The pane that the text of a toy file is typed in.

import { autocompletion, completionKeymap, type CompletionContext, type CompletionResult } from "@codemirror/autocomplete";
import { defaultKeymap, indentLess, indentMore } from "@codemirror/commands";
import { yaml } from "@codemirror/lang-yaml";
import { HighlightStyle, indentUnit, syntaxHighlighting } from "@codemirror/language";
import { lintGutter, setDiagnostics, type Diagnostic } from "@codemirror/lint";
import { Annotation, EditorState } from "@codemirror/state";
import { drawSelection, EditorView, highlightActiveLine, highlightActiveLineGutter, keymap, lineNumbers } from "@codemirror/view";
import { tags } from "@lezer/highlight";
import type { Problem } from "../protocol";
import { explain, keysAt, placeAt, schemasAt, takesFormula, valuesAt, type Schema } from "./schema";
import type { Pane } from "./sync";
import type { Splice } from "./text";

const byProgram = Annotation.define<boolean>();

export interface Told {
  typed(): void;
  /** moved says what stands at the cursor, in words. */
  moved(says: string): void;
  undo(): void;
  redo(): void;
  find(): void;
}

/** What the pane knows of the toy. */
export interface Known {
  schema: Schema | null;
  sizes: string[];
}

// Colours by the variables of the look, so that day and evening need no second set.
const colours = HighlightStyle.define([
  { tag: tags.propertyName, color: "var(--ink)", fontWeight: "600" },
  { tag: [tags.comment, tags.meta], color: "var(--pencil)", fontStyle: "italic" },
  { tag: [tags.string, tags.content], color: "var(--good)" },
]);

export class Editor implements Pane {
  private view: EditorView;

  constructor(place: HTMLElement, name: string, private known: Known, private on: Told) {
    this.view = new EditorView({
      parent: place,
      state: EditorState.create({
        extensions: [
          EditorView.cspNonce.of(document.querySelector<HTMLMetaElement>('meta[name="dryfit-nonce"]')?.content ?? ""),
          EditorView.contentAttributes.of({ "aria-label": "Text of " + name, "aria-describedby": "file-help-keys", spellcheck: "false", tabindex: "0" }),
          lineNumbers(), highlightActiveLine(), highlightActiveLineGutter(), drawSelection(), lintGutter(), EditorView.lineWrapping,
          indentUnit.of("  "), yaml(), syntaxHighlighting(colours),
          autocompletion({ override: [(c) => this.offers(c)] }),
          keymap.of([
            { key: "Mod-z", run: () => (on.undo(), true) },
            { key: "Mod-y", run: () => (on.redo(), true) },
            { key: "Mod-Shift-z", run: () => (on.redo(), true) },
            { key: "Mod-f", run: () => (on.find(), true) },
            { key: "Tab", run: indentMore, shift: indentLess }, // Escape before it leaves the pane
            ...completionKeymap, ...defaultKeymap,
          ]),
          EditorView.updateListener.of((u) => {
            if (u.docChanged && !u.transactions.some((t) => t.annotation(byProgram))) on.typed();
            if (u.docChanged || u.selectionSet) this.tell();
          }),
        ],
      }),
    });
  }

  text(): string {
    return this.view.state.doc.toString();
  }

  apply(s: Splice): void {
    this.view.dispatch({ changes: s, annotations: byProgram.of(true) });
  }

  knows(k: Known): void {
    this.known = k;
    this.tell();
  }

  /** problems marks lines. */
  problems(list: Problem[]): void {
    const doc = this.view.state.doc;
    const marks: Diagnostic[] = list.filter((p) => p.line >= 1 && p.line <= doc.lines).map((p) => {
      const line = doc.line(p.line);
      const from = Math.min(line.to, line.from + Math.max(0, p.col - 1));
      return { from, to: line.to, severity: "error", message: words(p) };
    });
    this.view.dispatch(setDiagnostics(this.view.state, marks));
  }

  /** show goes to a line, or marks a stretch of the text. */
  show(from: number, to = from): void {
    this.view.dispatch({ selection: { anchor: from, head: to }, effects: EditorView.scrollIntoView(from, { y: "center" }) });
  }

  goTo(line: number, col: number): void {
    const doc = this.view.state.doc, l = doc.line(Math.min(Math.max(1, line), doc.lines));
    this.show(Math.min(l.to, l.from + Math.max(0, col - 1)));
    this.view.focus();
  }

  cursor(): number {
    return this.view.state.selection.main.to;
  }

  focus(): void {
    this.view.focus();
  }

  end(): void {
    this.view.destroy();
  }

  private tell(): void {
    const { schema } = this.known;
    if (!schema) return;
    const text = this.text(), at = this.view.state.selection.main.head, p = placeAt(text, at);
    const word = /^[\w-]*/.exec(text.slice(p.from))![0];
    const path = p.at === "key" && word && schemasAt(schema, [...p.path, word]).length > 0 ? [...p.path, word] : p.path;
    const says = explain(schema, path), name = path.filter((k) => k !== "[]").join(" › ");
    this.on.moved(name ? `${name}: ${says || "a name of your own."}` : "");
  }

  private offers(c: CompletionContext): CompletionResult | null {
    const { schema, sizes } = this.known;
    if (!schema) return null;
    const p = placeAt(c.state.doc.toString(), c.pos);
    if (!c.explicit && p.from === c.pos) return null;
    if (p.at === "key") {
      const after = c.state.sliceDoc(c.pos, c.pos + 1) === ":" ? "" : ": ";
      return { from: p.from, options: keysAt(schema, p.path).map((k) => ({ label: k.word, detail: k.says, type: "property", apply: k.word + after })), validFor: /^[\w-]*$/ };
    }
    const words = valuesAt(schema, p.path).map((w) => ({ label: w, type: "enum" }));
    const names = takesFormula(schema, p.path) ? sizes.map((s) => ({ label: s, detail: "a size", type: "variable" })) : [];
    return { from: p.from, options: [...words, ...names], validFor: /^[\w-]*$/ };
  }
}

/** words is a problem in one line. */
export function words(p: Problem): string {
  return p.says + (p.expected ? "; expected " + p.expected : "") + (p.nearest ? "; did you mean " + p.nearest + "?" : "");
}
