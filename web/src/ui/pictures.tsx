// Pictures of one circuit: which device goes first, the volt drop along the way, size against length. Beside each the
// same in words.

import { useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { placeKey } from "../job/tree";
import type { Place } from "../job/types";
import { areaMapOf, curvesOf, profileOf, type AreaMap, type Cell, type Curves, type InSeries, type Pair, type Profile } from "../pictures";
import { decades, linear, logScale, path, steps, type Scale } from "../axes";
import { hrefOf } from "../route";
import { answer, job } from "../state";
import "../style/drawing.css";
import "../style/pictures.css";
import { words as all } from "words:page";
import { words } from "words:pictures";
import { useUnits } from "./drawing";
import { Choosing } from "./fields";
import { useLater, useReading } from "./hooks";
import { Icon } from "./marks";
import { placeName } from "./place";

const w = words.circuit;
const c = words.curves;
const d = words.drop;
const m = words.map;

const nameOfPlace = (place: Place) => placeName(job.value, place);

export function PicturesView({ circuit }: { circuit: string }) {
  const place: Place = { kind: "circuit", id: circuit };
  const name = useReading(() => placeName(job.value, { kind: "circuit", id: circuit })).value;
  const ways = useReading(() => answer.value.judgements.map(({ earthing }) => earthing)).value;
  const picked = useSignal(0);
  const judgement = Math.min(picked.value, Math.max(0, ways.length - 1));
  const made = useLater(() => ({
    curves: curvesOf(job.value, judgement, circuit), profile: profileOf(job.value, judgement, circuit), map: areaMapOf(job.value, judgement, circuit),
  }), [judgement]);
  return (
    <div class="whole pictures">
      <header class="whole-head">
        <p class="app-name">{w.of}</p>
        <h1 id="here" tabIndex={-1}>{name}</h1>
        <p class="acts"><a class="act" href={hrefOf(place)}><Icon name="back" />{w.back(name)}</a></p>
      </header>
      {ways.length > 1 && (
        <div class="no-print">
          <Choosing id="judged-as" label={w.judged} value={String(judgement)} error={null}
            options={ways.map((earthing, index) => ({ value: String(index), text: all.earthing[earthing] }))}
            onPick={(value) => (picked.value = Number(value))} />
        </div>
      )}
      {ways.length > 1 && <p class="print-only">{w.judged}: {all.earthing[ways[judgement] ?? "tt"]}</p>}
      {made === undefined && <p class="hint" role="status">{w.wait}</p>}
      {made === null && <p class="wrong">{w.none}</p>}
      {made && (
        <>
          <Patterns />
          <Part id="curves" title={c.title} hint={c.hint}>{made.curves ? <CurvesPart of={made.curves} /> : <p>{w.none}</p>}</Part>
          <Part id="drop" title={d.title} hint={d.hint}>{made.profile ? <DropPart of={made.profile} /> : <p>{w.none}</p>}</Part>
          <Part id="map" title={m.title} hint={made.map ? m.hint(made.map.section + 1) : ""}>{made.map ? <MapPart of={made.map} /> : <p>{m.none}</p>}</Part>
        </>
      )}
    </div>
  );
}

function Part({ id, title, hint, children }: { id: string; title: string; hint: string; children: ComponentChildren }) {
  return (
    <section class="picture" aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      {hint !== "" && <p class="hint">{hint}</p>}
      {children}
    </section>
  );
}

const letters = "ABCDEFGHIJ";
const short = (amperes: number) => (amperes >= 1000 ? `${amperes / 1000} kA` : `${amperes} A`);
const times = Object.entries(c.times).map(([value, text]) => [Number(value), text] as const);
const longest = 9000;

// Which device goes first.

function CurvesPart({ of }: { of: Curves }) {
  const { ref, width } = useUnits();
  const letterOf = (one: InSeries) => letters[of.devices.indexOf(one)] ?? "?";
  return (
    <>
      <div class="drawing" ref={ref}>{width.value > 0 && of.devices.length > 0 && <CurvesPicture of={of} width={width.value} letterOf={letterOf} />}</div>
      <h3>{c.devices}</h3>
      <ol class="told">
        {of.devices.map((one) => {
          const { low, high } = one;
          return (
            <li key={placeKey(one.place)}>
              <b>{c.device(letterOf(one), nameOfPlace(one.place), one.device, one.rating.shown)}</b>{" "}
              {low && high ? c.faults(low.shown, high.shown) : low ? c.lowOnly(low.shown) : high ? c.highOnly(high.shown) : c.noFaults}{" "}
              {one.early.length === 0 && c.noEdge}
            </li>
          );
        })}
      </ol>
      <h3>{c.orders}</h3>
      {of.pairs.length === 0 && <p>{c.single}</p>}
      {of.pairs.map((pair) => <PairTold key={placeKey(pair.below.place)} pair={pair} letterOf={letterOf} />)}
      {of.rcds.length > 1 && (
        <>
          <h3>{c.rcds}</h3>
          <ul class="told">
            {of.rcds.slice(0, -1).map(({ place, waits }, index) => {
              const next = of.rcds[index + 1];
              return next && <li key={placeKey(place)}>{(waits === true ? c.rcdWaits : c.rcdTogether)(nameOfPlace(place), nameOfPlace(next.place))}</li>;
            })}
          </ul>
        </>
      )}
      <p class="hint">{c.basis}</p>
    </>
  );
}

function PairTold({ pair, letterOf }: { pair: Pair; letterOf: (one: InSeries) => string }) {
  const { above, below, stretches, selective, selectiveTo, atLow, atHigh, known } = pair;
  const [a, b] = [letterOf(above), letterOf(below)];
  return (
    <div class="pair">
      <p><b>{c.over(`${b} (${nameOfPlace(below.place)})`, `${a} (${nameOfPlace(above.place)})`)}</b> {selective ? c.verdictSure : selectiveTo ? c.verdictPart(selectiveTo.shown) : c.verdictNo}</p>
      <ul class="told">
        {stretches.map(({ order, from, to }) => <li key={from.value}>{c.stretch(from.shown, to.shown, c.order[order](b, a))}</li>)}
        {below.low && atLow && <li>{c.atLow(below.low.shown, c.order[atLow](b, a))}</li>}
        {below.high && atHigh && <li>{c.atHigh(below.high.shown, c.order[atHigh](b, a))}</li>}
        {!known && <li>{c.unknownTop}</li>}
      </ul>
    </div>
  );
}

function CurvesPicture({ of, width, letterOf }: { of: Curves; width: number; letterOf: (one: InSeries) => string }) {
  const left = 50;
  const right = width - 12;
  const top = 24;
  const low = top + Math.min(380, Math.max(260, width * 0.75));
  const floor = low + 22;
  const currents = of.devices.flatMap(({ rating, late, low: least, high }) => [rating.value, ...late.map(([i]) => i), ...(least ? [least.value] : []), ...(high ? [high.value] : [])]);
  const [from, to] = [Math.min(...currents) / 1.25, Math.max(...currents) * 1.35];
  const x = logScale(from, to, left, right);
  const y = logScale(0.1, longest, low, top);
  const ticks = decades(from, to);
  const labels = ticks.filter(({ bold }) => bold || right - left > 480);
  const bars = floor + 46;
  const bar = 34;
  const height = bars + (of.devices.length + of.pairs.length) * bar + 6;
  return (
    <svg viewBox={`0 0 ${width} ${height}`} class="plot" role="img" aria-label={c.picture}>
      {ticks.map(({ value, bold }) => <path key={value} class={bold ? "grid grid-bold" : "grid"} d={`M${x(value).toFixed(1)} ${top}V${floor}`} />)}
      {times.map(([value, text]) => (
        <g key={value}>
          <path class="grid grid-bold" d={`M${left} ${y(value).toFixed(1)}H${right}`} />
          <text class="tick" x={left - 5} y={y(value) + 4} text-anchor="end">{text}</text>
        </g>
      ))}
      <rect x={left} y={low} width={right - left} height={floor - low} class="unknown" />
      <text class="tick" x={(left + right) / 2} y={low + 15} text-anchor="middle">{width < 330 ? c.quick.split(":")[0] : c.quick}</text>
      {of.devices.map((one, index) => <Band key={placeKey(one.place)} one={one} index={index} x={x} y={y} right={right} top={top} low={low} letter={letterOf(one)} />)}
      {labels.map(({ value }) => <text key={value} class="tick" x={x(value)} y={floor + 15} text-anchor="middle">{short(value)}</text>)}
      <text class="tick axis" x={right} y={floor + 31} text-anchor="end">{c.current} →</text>
      <text class="tick axis" x={4} y={14}>↑ {c.time}</text>
      {of.devices.map((one, index) => <Faults key={placeKey(one.place)} one={one} letter={letterOf(one)} y={bars + index * bar} x={x} left={left} right={right} />)}
      {of.pairs.map((pair, index) => <OrderBar key={placeKey(pair.below.place)} pair={pair} y={bars + (of.devices.length + index) * bar} x={x} left={left} name={c.pair(letterOf(pair.below), letterOf(pair.above))} />)}
    </svg>
  );
}

/** Fillings that stay apart in black and white. */
function Patterns() {
  return (
    <svg class="out" aria-hidden="true"><defs>
      <pattern id="fill-0" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M3.5 0v7" class="pattern" /></pattern>
      <pattern id="fill-1" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path d="M3.5 0v7" class="pattern" /></pattern>
      <pattern id="fill-2" width="6" height="6" patternUnits="userSpaceOnUse"><circle cx="3" cy="3" r="1.3" class="pattern-dot" /></pattern>
      <pattern id="fill-3" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M0 3h6" class="pattern" /></pattern>
      <pattern id="fill-4" width="8" height="8" patternUnits="userSpaceOnUse"><path d="M0 4h8M4 0v8" class="pattern" /></pattern>
    </defs></svg>
  );
}

function Band({ one, index, x, y, right, top, low, letter }: { one: InSeries; index: number; x: Scale; y: Scale; right: number; top: number; low: number; letter: string }) {
  const at = ([i, t]: readonly [number, number]) => [x(i), Math.max(top, y(t))] as const;
  const [start] = one.late;
  const last = one.late.at(-1);
  if (!start || !last) return null;
  const end = Math.min(right, one.breaking === null ? right : x(one.breaking));
  const late = [[x(start[0]), top] as const, ...one.late.map(at), [end, y(last[1])] as const];
  const [first] = one.early;
  const before = Math.min(x(one.rating.value), x(first?.[0] ?? one.rating.value));
  const early = first ? [[before, top] as const, [before, at(first)[1]] as const, ...one.early.map(at), [x(one.early.at(-1)?.[0] ?? first[0]), low] as const] : [];
  const bead = late[0] ?? [0, 0];
  const closing = y(last[1]) < low - 1 ? [] : [[end, low] as const];
  return (
    <g class={`band band-${index % 5}`}>
      {early.length > 0 && <path class="band-fill" fill={`url(#fill-${index % 5})`} d={`${path([...early, ...closing, ...[...late].reverse()])}Z`} />}
      {early.length > 0 && <path class="band-early" d={path(early)} />}
      <path class="band-late" d={path(late)} />
      <circle class="bead-back" cx={bead[0]} cy={top - 9} r="9" />
      <text class="bead-letter" x={bead[0]} y={top - 4.8} text-anchor="middle">{letter}</text>
    </g>
  );
}

/** From the least to the largest fault current behind a device, on the scale of the picture. */
function Faults({ one, letter, y, x, left, right }: { one: InSeries; letter: string; y: number; x: Scale; left: number; right: number }) {
  const { low, high } = one;
  return (
    <g>
      <text class="tick" x={left} y={y + 10}>{c.faultsShort(letter)}: {low && high ? `${low.shown} – ${high.shown}` : (low ?? high)?.shown ?? "?"}</text>
      <path class="grid" d={`M${left} ${y + 20}H${right}`} />
      {low && high && <path class="fault-range" d={`M${x(low.value).toFixed(1)} ${y + 20}H${x(high.value).toFixed(1)}`} />}
      {low && <path class="fault-end" d={`M${x(low.value).toFixed(1)} ${y + 14}v12`} />}
      {high && <path class="fault-end" d={`M${x(high.value).toFixed(1)} ${y + 14}v12`} />}
    </g>
  );
}

function OrderBar({ pair, y, x, left, name }: { pair: Pair; y: number; x: Scale; left: number; name: string }) {
  return (
    <g>
      <text class="tick" x={left} y={y + 10}>{name}</text>
      {pair.stretches.map(({ order, from, to }) => {
        const [start, end] = [Math.max(left, x(from.value)), x(to.value)];
        const text = c.orderShort[order];
        return (
          <g key={from.value} class={`order order-${order}`}>
            <rect x={start} y={y + 14} width={Math.max(0, end - start)} height="16" />
            {end - start > text.length * 6.6 + 8 && <text x={(start + end) / 2} y={y + 26} text-anchor="middle" class="order-word">{text}</text>}
          </g>
        );
      })}
    </g>
  );
}

// The volt drop along the way.

function DropPart({ of }: { of: Profile }) {
  const { ref, width } = useUnits();
  const { drop, limit, limitVolts, outcome, share, asDrawn, runs } = of;
  const ring = runs.some(({ place }) => place.kind === "circuit" && job.value.circuits.find(({ id }) => id === place.id)?.shape === "ring");
  const parted = runs.some(({ begin }, index) => index > 0 && Math.abs(begin.value - (runs[index - 1]?.end?.value ?? begin.value)) > 1e-4);
  if (runs.length === 0 || !drop) return <><div ref={ref} /><p>{d.missing}</p></>;
  return (
    <>
      <div class="drawing" ref={ref}>{width.value > 0 && <DropPicture of={of} width={width.value} />}</div>
      <p>
        <b>{d.total(drop.shown, share)}</b>{" "}
        {limitVolts && limit !== null ? `${d.limitIs(limitVolts.shown, limit)}${outcome === null ? "" : `: ${all.outcome[outcome]}.`}` : d.noLimit}{" "}
        {!asDrawn && d.other(drop.shown)} {ring && d.ring} {parted && d.line}
      </p>
      <h3 id="drop-table">{d.table}</h3>
      <div class="paper-scroll" tabIndex={0} role="region" aria-labelledby="drop-table">
        <table class="paper-table">
          <thead><tr><th scope="col">{d.place}</th><th scope="col">{d.length}</th><th scope="col">{d.begin}</th><th scope="col">{d.end}</th></tr></thead>
          <tbody>
            {runs.map(({ place, length, begin, end }) => (
              <tr key={placeKey(place)}><th scope="row">{nameOfPlace(place)}</th><td>{length.shown}</td><td>{begin.shown}</td><td>{end?.shown ?? "–"}</td></tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

function DropPicture({ of, width }: { of: Profile; width: number }) {
  const left = 44;
  const right = width - 14;
  const top = 34;
  const height = 290;
  const floor = height - 34;
  let begin = 0;
  const placed = of.runs.map((run) => {
    const start = begin;
    begin += run.length.value;
    return { run, start };
  });
  const spurs = placed.flatMap(({ run, start }) => run.points.filter(({ spur }) => spur).map(({ length }) => start + run.length.value + length));
  const metres = Math.max(begin, ...spurs);
  const most = Math.max(of.limitVolts?.value ?? 0, ...placed.flatMap(({ run }) => run.points.map(({ volts }) => run.begin.value + volts)), 0.1) * 1.12;
  const x = linear(0, metres, left, right);
  const y = linear(0, most, top, floor);
  return (
    <svg viewBox={`0 0 ${width} ${height}`} class="plot" role="img" aria-label={d.picture}>
      {steps(most, 6).map((volts) => (
        <g key={volts}>
          <path class="grid" d={`M${left} ${y(volts).toFixed(1)}H${right}`} />
          <text class="tick" x={left - 5} y={y(volts) + 4} text-anchor="end">{volts} V</text>
        </g>
      ))}
      {steps(metres, width > 500 ? 10 : 5).map((at) => <text key={at} class="tick" x={x(at)} y={floor + 17} text-anchor={at === 0 ? "start" : "middle"}>{at} m</text>)}
      {of.limitVolts && of.limit !== null && (
        <g class="limit">
          <path d={`M${left} ${y(of.limitVolts.value).toFixed(1)}H${right}`} />
          <text class="tick" x={left + 6} y={y(of.limitVolts.value) - 6}>{d.limit(of.limitVolts.shown, of.limit)}</text>
        </g>
      )}
      {placed.map(({ run, start }, index) => {
        const at = (metre: number, volts: number) => [x(start + metre), y(run.begin.value + volts)] as const;
        const line = run.points.filter(({ spur }) => !spur);
        const worst = line.reduce((one, other) => (other.volts > one.volts ? other : one), line[0] ?? { length: 0, volts: 0 });
        return (
          <g key={placeKey(run.place)}>
            <path class="stop-line" d={`M${x(start).toFixed(1)} ${top}V${floor}`} />
            <text class="tick stop-name" x={x(start) + 4} y={index % 2 === 0 ? 14 : 28}>{letters[index]}</text>
            <path class="profile" d={path([at(0, 0), ...line.map(({ length, volts }) => at(length, volts))])} />
            {run.points.filter(({ spur }) => spur).map(({ section, length, volts }) => (
              <path key={section} class="profile profile-spur" d={path([at(worst.length, worst.volts), at(worst.length + length, worst.volts + volts)])} />
            ))}
            {line.map(({ length, volts, section }) => <circle key={`${section} ${length}`} class="profile-point" cx={at(length, volts)[0]} cy={at(length, volts)[1]} r={line.length > 6 ? 2.2 : 3.4} />)}
          </g>
        );
      })}
      <text class="tick axis" x={right} y={height - 3} text-anchor="end">{placed.map(({ run }, index) => `${letters[index] ?? ""} ${nameOfPlace(run.place)}`).join(" · ")}</text>
    </svg>
  );
}

// Size against length.

type Block = { cell: Cell; from: number; to: number };

/** Neighbours that come out alike. */
function blocks(cells: Cell[]): Block[] {
  const found: Block[] = [];
  cells.forEach((cell, at) => {
    const last = found.at(-1);
    if (last && alike(last.cell, cell)) last.to = at;
    else found.push({ cell, from: at, to: at });
  });
  return found;
}

function alike(a: Cell, b: Cell): boolean {
  if (a === null || b === null) return a === b;
  return a.outcome === b.outcome && a.check === b.check && JSON.stringify(a.place) === JSON.stringify(b.place);
}

function called(cell: NonNullable<Cell>): string {
  const name = cell.name.replace(/^[A-Z](?=[a-z])/, (letter) => letter.toLowerCase());
  return cell.place ? m.at(name, nameOfPlace(cell.place)) : name;
}

function MapPart({ of }: { of: AreaMap }) {
  const { ref, width } = useUnits();
  const cells = of.rows.flatMap((row) => row.cells).filter((cell) => cell !== null);
  const codes = new Map<string, string>();
  for (const { check } of cells) if (!codes.has(check)) codes.set(check, letters[codes.size] ?? "·");
  const codeOf = (cell: NonNullable<Cell>) => codes.get(cell.check) ?? "";
  const kinds = (["pass", "fail", "doubtful", "cannot-say"] as const).filter((outcome) => cells.some((cell) => cell.outcome === outcome));
  const lengthAt = (index: number) => `${of.lengths[index] ?? 0}\u00a0${m.metres}`;
  return (
    <>
      <div class="drawing" ref={ref}>{width.value > 0 && <MapPicture of={of} width={width.value} codeOf={codeOf} />}</div>
      <p>{m.present(of.csa.shown, of.length.shown)}</p>
      <h3>{m.legend}</h3>
      <ul class="map-legend">
        {kinds.map((outcome) => (
          <li key={outcome}>
            <svg width="34" height="22" viewBox="0 0 34 22" class="plot" aria-hidden="true"><g class={`area area-${outcome}`}><rect x="1" y="1" width="32" height="20" /></g></svg>
            {outcome === "pass" ? m.passes : outcome === "fail" ? m.fails : outcome === "doubtful" ? m.doubtful : m["cannot-say"]}
          </li>
        ))}
        {[...codes].map(([check, code]) => <li key={check}><b class="map-code">{code}</b>{cells.find((cell) => cell.check === check)?.name}</li>)}
      </ul>
      <h3>{m.words}</h3>
      <ul class="told">
        {of.rows.map(({ csa, cells: row }) => (
          <li key={csa.value}>{m.row(csa.shown, blocks(row).map(({ cell, to }) => m.upTo(lengthAt(to), cell ? m.said[cell.outcome](called(cell)) : m.notMade)).join(", "))}</li>
        ))}
      </ul>
      <p class="hint">{m.tried(`${of.step}\u00a0${m.metres}`)}</p>
    </>
  );
}

function MapPicture({ of, width, codeOf }: { of: AreaMap; width: number; codeOf: (cell: NonNullable<Cell>) => string }) {
  const left = 62;
  const right = width - 14;
  const top = 8;
  const row = 27;
  const floor = top + of.rows.length * row;
  const x = linear(0, of.step * of.lengths.length, left, right);
  const ticks = of.lengths.filter((_, index) => (index + 1) % (width > 500 ? 2 : 5) === 0);
  const here = of.rows.findIndex(({ csa }) => csa.value === of.csa.value);
  return (
    <svg viewBox={`0 0 ${width} ${floor + 24}`} class="plot" role="img" aria-label={m.picture}>
      {of.rows.map(({ csa, cells }, index) => {
        const y = top + index * row;
        return (
          <g key={csa.value}>
            <text class="tick" x={left - 6} y={y + row / 2 + 4} text-anchor="end">{csa.shown}</text>
            {blocks(cells).map(({ cell, from, to }) => {
              const [start, end] = [x(of.step * from), x(of.step * (to + 1))];
              return (
                <g key={from} class={`area area-${cell?.outcome ?? "none"}`}>
                  <rect x={start + 0.75} y={y + 0.75} width={end - start - 1.5} height={row - 1.5} />
                  {cell && <text x={(start + end) / 2} y={y + row / 2 + 4.5} text-anchor="middle">{codeOf(cell)}</text>}
                </g>
              );
            })}
          </g>
        );
      })}
      {here >= 0 && of.length.value <= of.step * of.lengths.length && <circle class="present" cx={x(of.length.value)} cy={top + here * row + row / 2} r="9" />}
      {ticks.map((length) => <text key={length} class="tick" x={x(length)} y={floor + 17} text-anchor={x(length) > right - 16 ? "end" : "middle"}>{length} {m.metres}</text>)}
    </svg>
  );
}
