import type { Verdict } from "../verdict";
import { words } from "words:page";
import { Mark } from "./marks";

const w = words.record;

/** A word and a shape; what is no pass has a heavy frame, so that it is seen on any printer. */
export function Stamp({ outcome }: { outcome: Verdict | null }) {
  const of = outcome ?? "cannot-say";
  return <span class={`stamp stamp-${of}`}><Mark outcome={of} size={12} /> {outcome === null ? w.notRead : w.marks[of]}</span>;
}
