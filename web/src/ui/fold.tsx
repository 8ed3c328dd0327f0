// A part of a form that is folded to one line until it is wanted: only open parts are in the document.

import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import type { Path } from "../job/path";
import { words } from "words:page";
import { useErrorCount } from "./hooks";
import { Icon } from "./marks";

/** Names of the parts that lie open. */
const opened = signal<ReadonlySet<string>>(new Set());

export function setOpen(name: string, open: boolean): void {
  if (opened.peek().has(name) === open) return;
  const next = new Set(opened.peek());
  if (open) next.add(name);
  else next.delete(name);
  opened.value = next;
}

export function isOpen(name: string): boolean {
  return opened.value.has(name);
}

type Fold = {
  name: string;
  title: string;
  /** What it holds, in a line; a component so that only it follows the job. */
  summary?: ComponentChildren;
  covers?: readonly Path[];
  level?: 3 | 4 | 5;
  class?: string;
  children: ComponentChildren;
};

export function Fold({ name, title, summary, covers = [], level = 3, class: look = "", children }: Fold) {
  const open = isOpen(name);
  const errors = useErrorCount(covers);
  const Heading = `h${level}` as const;
  const id = `fold-${name}`;
  return (
    <section class={`fold ${open ? "is-open" : ""} ${look}`}>
      <Heading class="fold-head">
        <button type="button" aria-expanded={open} aria-controls={id} onClick={() => setOpen(name, !open)}>
          <span class="fold-words">
            <span class="fold-title">{title}</span>{" "}
            {summary !== undefined && <span class="fold-sum">{summary}</span>}{" "}
            {errors > 0 && <span class="fold-errors">{words.form.entries(errors)}</span>}
          </span>
          <Icon name={open ? "up" : "down"} />
        </button>
      </Heading>
      <div id={id} class="fold-body" hidden={!open}>{open && children}</div>
    </section>
  );
}
