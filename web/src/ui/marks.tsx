// Our own shapes. A verdict is a piece of cable: whole with a bead on it, broken, or running out into the open; a hollow bead where nothing was judged.

import type { Verdict } from "../verdict";

export function Mark({ outcome, size = 24 }: { outcome: Verdict; size?: number }) {
  return (
    <svg class={`mark mark-${outcome}`} width={size} height={size} viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <MarkShapes outcome={outcome} />
    </svg>
  );
}

/** The same inside another drawing. */
export function MarkShapes({ outcome }: { outcome: Verdict }) {
  return (
    <>
      {outcome === "pass" && (
        <>
          <path d="M0 12h24" stroke="currentColor" stroke-width="3" />
          <circle cx="12" cy="12" r="8" fill="currentColor" />
        </>
      )}
      {outcome === "doubtful" && (
        <>
          <path d="M0 12h4M20 12h4" stroke="currentColor" stroke-width="3" />
          <path d="M12 3.6a8.4 8.4 0 0 1 0 16.8z" fill="currentColor" />
          <circle cx="12" cy="12" r="7.6" fill="none" stroke="currentColor" stroke-width="2.6" />
        </>
      )}
      {outcome === "fail" && (
        <>
          <path d="M0 10h5M19 14h5" stroke="currentColor" stroke-width="3" />
          <path d="M4 2.5h10.5L8 18H4z" fill="currentColor" />
          <path d="M20 21.5H9.5L16 6h4z" fill="currentColor" />
        </>
      )}
      {outcome === "cannot-say" && (
        <>
          <path d="M0 12h4" stroke="currentColor" stroke-width="3" />
          <circle cx="12" cy="12" r="7.6" fill="none" stroke="currentColor" stroke-width="2.6" stroke-dasharray="4.2 3.76" />
          <circle cx="12" cy="12" r="2" fill="currentColor" />
        </>
      )}
      {outcome === "none" && <circle cx="12" cy="12" r="5.4" fill="none" stroke="currentColor" stroke-width="2.4" />}
    </>
  );
}

const drawings = {
  undo: "M9 5 4 10l5 5M4.5 10H14a5.5 5.5 0 0 1 0 11h-3",
  redo: "m15 5 5 5-5 5M19.5 10H10a5.5 5.5 0 0 0 0 11h3",
  job: "M6 3h9l4 4v14H6zM14 3v5h5M9 13h7M9 17h7",
  down: "m6 9 6 6 6-6",
  go: "m9 6 6 6-6 6",
  back: "m15 6-6 6 6 6",
  up: "m6 15 6-6 6 6",
  add: "M12 5v14M5 12h14",
  minus: "M5 12h14",
  copy: "M8 8h12v12H8zM4 16V4h12",
  jobs: "M3 4h18M8 4v5M16 4v3M5 9h6v11H5zM13 7h6v9h-6z",
  meter: "M5 4h14v16H5zM8.5 8h7v4h-7zM12 16.5h.01M8.5 16.5h.01M15.5 16.5h.01",
  drawing: "M5 4v16M5 7h6M5 16h6M11 4.5h8v5h-8zM11 13.5h8v5h-8z",
  print: "M7 9V4h10v5M7 17H4v-7h16v7h-3M7 14h10v6H7z",
  save: "M12 4v11M7 11l5 5 5-5M5 20h14",
  send: "M12 15V4M7 9l5-5 5 5M5 13v7h14v-7",
  code: "M4 4h6v6H4zM14 4h6v6h-6zM4 14h6v6H4zM14 14h2v2h-2zM18 18h2v2h-2zM18 14h2M14 20h2",
  remove: "M5 7h14M10 4h4M7 7l1 13h8l1-13",
} as const;

export function Icon({ name }: { name: keyof typeof drawings }) {
  return (
    <svg class="icon" width="24" height="24" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path d={drawings[name]} fill="none" stroke="currentColor" stroke-width="2.2" stroke-linecap="round" stroke-linejoin="round" />
    </svg>
  );
}
