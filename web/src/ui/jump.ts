// From what was said about an entry to the entry itself.

import { parsePath } from "../job/path";
import { go, hrefOf, hrefOfEarthing, view } from "../route";
import { job } from "../state";
import { fieldId } from "./fields";
import { setOpen } from "./fold";

const supplyFolds: Record<string, string> = {
  fault_level: "fault", fault_level_from: "fault", x_over_r: "fault", device: "device", neutral_csa: "origin", tails_csa: "origin",
  earthing_conductor: "earth", extraneous: "earth", bonding: "earth",
};
const boardFolds: Record<string, string> = { id: "what", name: "what", fed_by: "what", demand: "demand", rcd: "demand", conditional: "demand" };
const circuitFolds: Record<string, string> = {
  device: "protect", rcd: "protect", outdoors: "where", bath: "where", concealed: "where", dwelling: "where",
};

const sectionFolds: Record<string, string> = {
  material: "cable", insulation: "cable", construction: "cable", cores: "cable", protective: "cable", neutral_csa: "cable", operating_limit: "cable",
  ambient: "place", grouped: "place", arrangement: "place", soil: "place", depth: "place", insulation_run: "place", part: "place", spur_fuse: "place",
};

/** What of a board's site is folded away. */
const siteFolded = new Set(["target", "rcd_kind", "limit", "least_load", "in_addition"]);

export function goToEntry(text: string): void {
  const [top, index, key, part, entry] = parsePath(text);
  if (top === "supply") {
    setOpen(`supply-${supplyFolds[String(index)] ?? "arrives"}`, true);
    go(hrefOf({ kind: "supply" }));
  } else if (top === "boards" && typeof index === "number") {
    const id = job.value.boards[index]?.id;
    if (id === undefined) return;
    const at = view.peek();
    if (key === "site" || (key === "ra" && at.view === "place" && at.aspect === "earthing")) {
      setOpen(`site-${index}-${part === "situations" ? "situations" : "compare"}`, part === "situations" || siteFolded.has(String(part)));
      go(hrefOfEarthing(id));
    } else {
      setOpen(`board-${id}-${boardFolds[String(key)] ?? "earth"}`, true);
      go(hrefOf({ kind: "board", id }));
    }
  } else if (top === "circuits" && typeof index === "number") {
    const id = job.value.circuits[index]?.id;
    if (id === undefined) return;
    if (key === "sections" && typeof part === "number") {
      setOpen(`section-${id}-${part}`, true);
      const inner = sectionFolds[String(entry)];
      if (inner !== undefined) setOpen(`section-${id}-${part}-${inner}`, true);
    }
    if (key !== "sections" && key !== "shape") setOpen(`circuit-${id}-${circuitFolds[String(key)] ?? "what"}`, true);
    go(hrefOf({ kind: "circuit", id }));
  } else if (top === "profile") {
    go("#/rules");
  } else if (top === "testing") {
    go("#/instruments");
  } else {
    go("#/job");
  }
  // The place is drawn first; its own heading takes the focus, then the entry does.
  setTimeout(() => {
    const path = parsePath(text);
    for (let length = path.length; length > 0; length -= 1) {
      const entry = document.getElementById(fieldId(path.slice(0, length)));
      if (!entry) continue;
      entry.focus();
      entry.scrollIntoView({ block: "center" });
      return;
    }
  }, 60);
}
