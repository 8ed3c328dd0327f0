// The one-line diagram: the installation as it hangs together, every place of it a link with its verdict. Symbols are
// those of IEC 60617 where the trade draws them.

import { useSignal, type Signal } from "@preact/signals";
import type { RefObject } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import { column, farthest, leading, mark, needed, plan, sheets, size, type End, type Gear, type Label, type Measure, type Plan, type Spot } from "../drawing";
import { before, placeKey, walk } from "../job/tree";
import type { Place } from "../job/types";
import { hrefOf } from "../route";
import { job } from "../state";
import "../style/drawing.css";
import { words as all } from "words:page";
import { words } from "words:pictures";
import { useReading } from "./hooks";
import { MarkShapes } from "./marks";
import { placeName } from "./place";
import { tell } from "./row";
import { protection } from "./summary";

const w = words.drawing;

function label(place: Place): Label {
  const { name, what, verdicts, facts } = tell(job.value, place);
  const single = verdicts.length === 1;
  const said = verdicts.map(({ outcome, earthing }) => ({ outcome, word: single ? all.outcome[outcome] : `${earthing}: ${all.outcome[outcome]}` }));
  return {
    name,
    what: [place.kind === "supply" ? what : "", protection(job.value, place)].filter((part) => part !== "").join(" · "),
    verdicts: said.length === 0 ? [{ outcome: "cannot-say", word: all.outcome["cannot-say"] }] : said,
    facts: single ? (facts[0] ?? []).slice(0, 2).map(({ symbol, shown }) => `${symbol} ${shown}`) : [],
  };
}

/** What an A4 sheet between its margins is wide, in units of text, and the least that a picture is drawn in. */
const paper = 640;
const narrowest = 100;
/** What of it has room on a sheet, below the heading of the first. */
const high = 760;

/** Width in units of text, so that larger text makes a narrower drawing and not a smaller one. */
export function useUnits(): { ref: RefObject<HTMLDivElement | null>; width: Signal<number>; onPaper: Signal<boolean> } {
  const ref = useRef<HTMLDivElement>(null);
  const width = useSignal(0);
  const onPaper = useSignal(false);
  useLayoutEffect(() => {
    const box = ref.current;
    if (!box) return undefined;
    const measure = () => {
      onPaper.value = false;
      const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
      const units = Math.floor((box.clientWidth / rem) * 16);
      // While the page is laid out a box may be next to nothing: no picture is drawn into that.
      width.value = units < narrowest ? 0 : units;
    };
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(box);
    // On paper text keeps its size too: drawn for a screen it would be shrunk to the sheet, or blown up.
    const toPaper = () => {
      width.value = paper;
      onPaper.value = true;
    };
    addEventListener("beforeprint", toPaper);
    addEventListener("afterprint", measure);
    return () => {
      watch.disconnect();
      removeEventListener("beforeprint", toPaper);
      removeEventListener("afterprint", measure);
    };
  }, []);
  return { ref, width, onPaper };
}

function measurer(): Measure {
  const canvas = document.createElement("canvas").getContext("2d");
  const family = getComputedStyle(document.documentElement).fontFamily;
  return (text, of, bold) => {
    if (!canvas) return text.length * of * 0.56;
    canvas.font = `${bold ? 650 : 400} ${of}px ${family}`;
    return canvas.measureText(text).width;
  };
}

export function DrawingView() {
  const name = useReading(() => job.value.name).value;
  return (
    <div class="whole">
      <header class="whole-head">
        <p class="app-name">{all.whole.drawing}</p>
        <h1 id="here" tabIndex={-1}>{name === "" ? all.place.unnamed : name}</h1>
      </header>
      <Drawing />
    </div>
  );
}

function Drawing() {
  const { ref, width, onPaper } = useUnits();
  const drawn = useReading<Plan | null>(() => {
    if (width.value === 0) return null;
    const measure = measurer();
    const first = plan(job.value, width.value, measure, label);
    const room = needed(first, measure);
    // Where it goes deep, or text is large, it is wider than the screen, and is moved rather than cut.
    return room > width.value ? plan(job.value, room, measure, label) : first;
  }).value;
  return (
    <>
      <p class="hint">{w.hint}</p>
      <div class="drawing" ref={ref} {...(drawn && drawn.width > width.value ? { role: "region", "aria-label": w.moves, tabIndex: 0 } : {})}>
        {drawn && (onPaper.value ? sheets(drawn, high) : [{ from: 0, to: drawn.height }]).map(({ from: first, to: last }) => (
          <svg key={first} viewBox={`0 ${first} ${drawn.width} ${last - first}`} class="one-line" role="group" aria-label={all.whole.drawing} {...(drawn.width > width.value ? { style: { width: `${drawn.width / 16}rem` } } : {})}>
            {drawn.uprights.map(({ x, from, to, bus }) => <path key={`${x} ${from}`} class={bus ? "busbar" : "wire"} d={`M${x} ${bus ? from - 11 : from}V${bus ? Math.max(to, from) + 8 : to}`} />)}
            {drawn.stubs.map(({ y, from, to }) => <path key={y} class="wire" d={`M${from} ${y}H${to}`} />)}
            {drawn.spots.filter(({ top }) => top >= first && top < last).map((spot) => <SpotLink key={placeKey(spot.place)} spot={spot} drawn={drawn} />)}
          </svg>
        ))}
      </div>
      <Legend />
      <AsTable />
    </>
  );
}

function SpotLink({ spot, drawn }: { spot: Spot; drawn: Plan }) {
  const { label: said, textX, top, height, name, what } = spot;
  const left = spot.elbow === null ? spot.x : spot.elbow - 20;
  let y = top + 22;
  const lines = [
    ...name.map((text) => ({ text, kind: "name" as const })),
    ...what.map((text) => ({ text, kind: "what" as const })),
  ].map(({ text, kind }, index) => {
    if (index > 0) y += leading[kind];
    return { text, kind, y };
  });
  const wide = drawn.wide;
  const saidX = wide ? Math.min(drawn.width - column, farthest) : textX;
  let saidY = wide ? top + 22 : y + leading.verdict;
  const verdicts = said.verdicts.map((verdict, index) => ({ ...verdict, y: index === 0 ? saidY : (saidY += leading.verdict) }));
  return (
    <>
      <Symbols spot={spot} />
      <a href={hrefOf(spot.place)}>
        <rect class="reach" x={left} y={top + 1} width={drawn.width - left - 1} height={height - 2} rx="5" />
        {lines.map((line) => <text key={line.y} class={`text-${line.kind}`} x={textX} y={line.y} font-size={size[line.kind]}>{line.text}{" "}</text>)}
        {verdicts.map(({ outcome, word, y: at }) => (
          <g key={word} class={`said-${outcome}`}>
            <svg x={saidX} y={at - 14} width="18" height="18" viewBox="0 0 24 24"><MarkShapes outcome={outcome} /></svg>
            <text class="text-said" x={saidX + mark} y={at} font-size={size.verdict}>{word}{" "}</text>
          </g>
        ))}
        {wide && said.facts.map((fact, index) => <text key={fact} class="text-what" x={saidX + mark} y={saidY + (index + 1) * leading.what} font-size={size.what}>{fact}{" "}</text>)}
      </a>
    </>
  );
}

function Symbols({ spot }: { spot: Spot }) {
  const { place, x, y, gear, rcd, three, elbow, end, earth, loose } = spot;
  return (
    <g class={`symbols${loose ? " is-loose" : ""}`} aria-hidden="true">
      {place.kind === "supply" && <Source x={x} y={y} gear={gear} three={three} />}
      {place.kind === "board" && rcd && <Toroid x={x} y={y - 3} upright />}
      {earth && <Electrode x={x} y={y} />}
      {place.kind === "circuit" && elbow === null && (
        <>
          <path class="wire" d={`M${x} ${y}h${gear ? 9 : 64}`} />
          {gear && <g transform={`translate(${x + 9} ${y})`}><GearSign gear={gear} /></g>}
          <path class="wire" d={`M${x + 33} ${y}h31`} />
          {rcd && <Toroid x={x + 41} y={y} upright={false} />}
          {three && <Three x={x + 50} y={y} />}
          {end && <g transform={`translate(${x + 64} ${y})`}><EndSign end={end} /></g>}
        </>
      )}
      {place.kind === "circuit" && elbow !== null && (
        <>
          <path class="wire" d={`M${x} ${y}H${elbow}`} />
          {three && <Three x={x + 12} y={y} />}
          {gear && <g transform={`translate(${elbow} ${y + 3}) rotate(90)`}><rect class="blank" x="0" y="-1.5" width="24" height="3" /><GearSign gear={gear} /></g>}
          {rcd && <Toroid x={elbow} y={y + 36} upright />}
        </>
      )}
    </g>
  );
}

/** 24 long, the side of the supply at 0. */
function GearSign({ gear }: { gear: Gear }) {
  if (gear === "fuse") return <><rect class="sign" x="1" y="-5.5" width="22" height="11" /><path class="sign" d="M0 0h24" /></>;
  return <path class="sign" d="M0 0h4M1 -3.2l6 6.4M1 3.2l6 -6.4M22 0L5 -9.5M22 0h2" />;
}

function Toroid({ x, y, upright }: { x: number; y: number; upright: boolean }) {
  return <ellipse class="sign" cx={x} cy={y} rx={upright ? 8.5 : 3.6} ry={upright ? 3.6 : 8.5} />;
}

function Three({ x, y }: { x: number; y: number }) {
  return <path class="sign" d={`M${x - 5} ${y + 5}l4 -10M${x - 1} ${y + 5}l4 -10M${x + 3} ${y + 5}l4 -10`} />;
}

function Electrode({ x, y }: { x: number; y: number }) {
  return <path class="sign" d={`M${x} ${y}H${x + 26}V${y + 9}M${x + 17} ${y + 9}h18M${x + 20.5} ${y + 13}h11M${x + 23.5} ${y + 17}h5`} />;
}

function Source({ x, y, gear, three }: { x: number; y: number; gear: Gear | null; three: boolean }) {
  return (
    <>
      <circle class="sign blank-fill" cx={x} cy={y} r="11" />
      <path class="sign" d={`M${x - 6.5} ${y}q3.25 -7 6.5 0t6.5 0`} />
      {gear && <g transform={`translate(${x} ${y + 13}) rotate(90)`}><rect class="blank" x="0" y="-1.5" width="24" height="3" /><GearSign gear={gear} /></g>}
      {three && <Three x={x - 1} y={y + 42} />}
    </>
  );
}

/** From the end of the line at 0 on. */
function EndSign({ end }: { end: End }) {
  switch (end) {
    case "sockets": return <path class="sign" d="M0 0h3M3 -8v16M12 -8a9 8 0 0 0 0 16" />;
    case "lamp": return <path class="sign" d="M0 0a7 7 0 1 0 14 0a7 7 0 1 0 -14 0M2 -5l10 10M2 5l10 -10" />;
    case "motor": return <><circle class="sign" cx="7.5" cy="0" r="7.5" /><text class="sign-text" x="7.5" y="3.8" text-anchor="middle" font-size="10.5">M</text></>;
    case "heater": return <path class="sign" d="M0 -4.5h15v9h-15zM3.75 -4.5v9M7.5 -4.5v9M11.25 -4.5v9" />;
    case "load": return <path class="sign sign-full" d="M2 -4.5l10 4.5l-10 4.5z" />;
  }
}

function Legend() {
  const line = <path class="wire" d="M0 12h34" />;
  const signs = [
    ["fuse", <g transform="translate(5 12)"><GearSign gear="fuse" /></g>],
    ["breaker", <><rect class="blank" x="6" y="10" width="22" height="4" /><g transform="translate(5 12)"><GearSign gear="breaker" /></g></>],
    ["rcd", <Toroid x={17} y={12} upright={false} />],
    ["three", <Three x={16} y={12} />],
    ["earth", <Electrode x={0} y={7} />],
    ...(["sockets", "lamp", "motor", "heater", "load"] as const).map((end) => [end, <g transform="translate(12 12)"><EndSign end={end} /></g>] as const),
  ] as const;
  return (
    <section class="legend" aria-labelledby="legend">
      <h2 id="legend">{w.legend}</h2>
      <ul>
        {signs.map(([name, sign]) => (
          <li key={name}>
            <svg viewBox="0 0 40 26" width="40" height="26" aria-hidden="true" class="one-line">
              {name === "earth" ? null : ["fuse", "breaker", "rcd", "three"].includes(name) ? line : <path class="wire" d="M0 12h12" />}{sign}
            </svg>
            {w.signs[name]}
          </li>
        ))}
      </ul>
    </section>
  );
}

function AsTable() {
  const rows = useReading(() => {
    const name = (place: Place | null) => (place ? placeName(job.value, place) : w.loose);
    return walk(job.value).map(({ place }) => {
      const { name: own, what, verdicts } = label(place);
      return { place, name: own, from: place.kind === "supply" ? w.origin : name(before(job.value, place)), what, said: verdicts };
    });
  }).value;
  return (
    <div class="as-table">
      <h2 id="as-table">{w.table}</h2>
      <div class="paper-scroll" tabIndex={0} role="region" aria-labelledby="as-table">
        <table class="paper-table">
          <thead><tr><th scope="col">{w.place}</th><th scope="col">{w.fedFrom}</th><th scope="col">{w.gear}</th><th scope="col">{w.verdict}</th></tr></thead>
          <tbody>
            {rows.map(({ place, name, from, what, said }) => (
              <tr key={placeKey(place)}>
                <th scope="row">{name}</th><td>{from}</td><td>{what}</td>
                <td>{said.map(({ word, outcome }) => <span key={word} class={`said-${outcome}`}>{word} </span>)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </div>
  );
}
