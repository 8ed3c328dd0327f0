// The record: everything that was designed and read, laid out for A4. On the screen the same sheet, with what is to be
// filled in above it.

import { showNumber } from "../job/number";
import { placeKey } from "../job/tree";
import type { Circuit, Device, EarthingConductor, Job, JudgedReading, Outcome, Place, Reading, RecordTexts, Section } from "../job/types";
import { fileName, hand, textOf } from "../keep/file";
import { assumptions, figure, places, sources, stopsOf, table, type Line, type PlaceRecord } from "../record";
import { tested } from "../answers";
import { answer, job, offered } from "../state";
import { notesOf } from "../tested";
import { verdictOf } from "../verdict";
import { words } from "words:page";
import { shownShort } from "./entry";
import { nameIn, shortNameIn, TextField } from "./fields";
import { Standing, withUnit } from "./found";
import { useReading } from "./hooks";
import { instrumentLine, instrumentNames } from "./instruments";
import { Icon } from "./marks";
import { placeName } from "./place";
import { comparedIn, isCompared, WaysPart } from "./record-ways";
import { Stamp } from "./stamp";
import { sectionLine } from "./summary";

const w = words.record;
const fields = Object.keys(w.fields) as (keyof RecordTexts)[];
const nb = "\u00a0";

function known() {
  return { job: job.value, answer: answer.value, tested: tested.value, earthing: (name: keyof typeof words.earthing) => words.earthing[name] };
}

export function RecordView() {
  const asTable = () => hand(fileName(job.value.name, "csv"), "text/csv;charset=utf-8", `\ufeff${table(known(), {
    group: nameIn, outcome: (of) => words.meter.outcome[of], place: (place) => placeName(job.value, place), yes: words.form.yes, no: words.form.no,
  })}`);
  const asData = () => hand(fileName(job.value.name, "record.json"), "application/json", textOf({
    format: "faultpath-record", version: 1, made: new Date().toISOString(), job: job.value, design: answer.value, readings: tested.value, earthing: comparedIn(job.value),
  }));
  return (
    <div class="record-view">
      <div class="sheet no-print">
        <h1 id="here" tabIndex={-1}>{w.title}</h1>
        <p class="hint">{w.hint}</p>
        <div class="acts acts-wide">
          <button type="button" class="act act-main" onClick={() => print()}><Icon name="print" />{w.print}</button>
          <button type="button" class="act" onClick={asTable}><Icon name="save" />{w.csv}</button>
          <button type="button" class="act" onClick={asData}><Icon name="save" />{w.json}</button>
        </div>
        <section aria-labelledby="fill">
          <h2 id="fill">{w.fill}</h2>
          <p class="hint">{w.fillHint}</p>
          <div class="grid">
            {fields.map((key) => <TextField key={key} label={w.fields[key]} path={["record", key]} lines={key === "meters" || key === "remarks" || key === "site" ? 2 : 1} open />)}
          </div>
        </section>
      </div>
      <Paper />
    </div>
  );
}

function Paper() {
  const all = useReading(() => places(known())).value;
  const of = job.value;
  const supply = all.find(({ place }) => place.kind === "supply");
  const boards = all.filter(({ place }) => place.kind === "board");
  return (
    <article class="paper" aria-label={w.page}>
      <header class="paper-head">
        <p class="paper-kind">{w.page}</p>
        <p class="paper-name">{of.name}</p>
        {of.notes !== null && of.notes !== "" && <p>{of.notes}</p>}
      </header>
      <State all={all} />
      <Filled of={of} />
      {supply && <SupplyPart of={of} at={supply} />}
      {boards.map((at) => <BoardPart key={placeKey(at.place)} of={of} at={at} circuits={all.filter(({ place }) => place.kind === "circuit" && circuitOf(of, place)?.board === idOf(at.place))} />)}
      <Rest of={of} all={all} />
    </article>
  );
}

const idOf = (place: Place) => (place.kind === "supply" ? "" : place.id);
const circuitOf = (of: Job, place: Place) => of.circuits.find(({ id }) => place.kind === "circuit" && id === place.id);

function State({ all }: { all: readonly PlaceRecord[] }) {
  const through = all.every((one) => one.through);
  const may = all.every((one) => one.may);
  const off = all.filter((one) => !one.may);
  const design = answer.value.outcome;
  const lines = all.flatMap(({ lines: held }) => held).filter(({ read }) => read);
  const bad = lines.filter(({ judged }) => judged.outcome !== "pass").length;
  return (
    <section class={`paper-state${through ? "" : " is-open"}`} aria-label={w.state}>
      <p class="paper-state-word">{through ? words.meter.complete : may ? w.mayBe : w.notComplete}</p>
      <dl class="pairs">
        <Pair name={w.design}><Stamp outcome={design} /></Pair>
        <Pair name={w.tests}>{w.testCount(lines.length, bad, all.reduce((sum, { missing }) => sum + missing.length, 0))}</Pair>
        {off.length > 0 && <Pair name={words.meter.keepOff} wide>{off.map(({ place }) => placeName(job.value, place)).join(", ")}</Pair>}
        <Pair name={w.judgedBy}>{typeof job.value.profile === "string" ? offered.value.profiles[job.value.profile].name : job.value.profile.name}</Pair>
      </dl>
    </section>
  );
}

function Pair({ name, wide = false, children }: { name: string; wide?: boolean; children: preact.ComponentChildren }) {
  return <div class={wide ? "pair-wide" : undefined}><dt>{name}</dt><dd>{children}</dd></div>;
}

function Filled({ of }: { of: Job }) {
  return (
    <div class="paper-filled">
      <dl>
        {fields.map((key) => {
          const text = of.record?.[key] ?? "";
          return <div key={key} class={text === "" ? "is-blank" : ""}><dt>{w.fields[key]}</dt><dd>{text}</dd></div>;
        })}
        <div class="is-blank"><dt>{w.sign}</dt><dd /></div>
      </dl>
    </div>
  );
}

const amount = (value: number | null, unit: string, shift = 0) => (value === null || Number.isNaN(value) ? w.notEntered : `${showNumber(value, shift)}${nb}${unit}`);
const deviceText = (of: Device | null) => (of === null ? w.notEntered : [shortNameIn("family", of.family), amount(of.rating, "A"), of.breaking === null ? null : amount(of.breaking, "kA", 3)].filter(Boolean).join(", "));
const earthText = (of: EarthingConductor | null) => (of === null ? w.notEntered : `${amount(of.csa, "mm²")} ${nameIn("material", of.material)}`);
const metalText = (of: { material: string; csa: number | null } | null) => (of === null ? w.none : `${amount(of.csa, "mm²")} ${nameIn("material", of.material)}`);
const rcdText = (of: Circuit["rcd"]) => (of === null ? w.none : [`${amount(of.sensitivity, "mA", -3)} ${w.rcdType(nameIn("rcd", of.kind))}`, of.delay === "none" ? null : nameIn("delay", of.delay)].filter(Boolean).join(", "));

function SupplyPart({ of, at }: { of: Job; at: PlaceRecord }) {
  const { supply } = of;
  const s = words.supply;
  return (
    <section class="paper-part" aria-labelledby="paper-supply">
      <h2 id="paper-supply">{w.supply}</h2>
      <dl class="pairs">
        <Pair name={s.u0}>{amount(supply.u0, "V")}, {nameIn("current", supply.current)}, {s.phase[supply.phases]}</Pair>
        <Pair name={s.earthing}>{nameIn("supply_earthing", supply.earthing)}</Pair>
        <Pair name={s.ze}>{amount(supply.ze, "Ω")}{supply.ze !== null && `, ${nameIn("origin", supply.ze_from)}`}</Pair>
        {supply.ra !== null && <Pair name={s.ra}>{amount(supply.ra, "Ω")}</Pair>}
        <Pair name={s.faultLevel}>{amount(supply.fault_level, "kA", 3)}, {nameIn("level_origin", supply.fault_level_from)}</Pair>
        <Pair name={s.device}>{deviceText(supply.device)}</Pair>
        <Pair name={s.origin}>{amount(supply.tails_csa, "mm²")}; {s.neutral}: {amount(supply.neutral_csa, "mm²")}</Pair>
        <Pair name={s.earth}>{earthText(supply.earthing_conductor)}; {s.bonding}: {metalText(supply.bonding)}</Pair>
        <Pair name={w.design}><Designs at={at} /></Pair>
      </dl>
      <Results of={of} all={[at]} title={`${w.results}: ${words.place.supply}`} />
    </section>
  );
}

function Designs({ at }: { at: PlaceRecord }) {
  return <>{at.design.map(({ when, answer: found }) => <span key={when ?? ""} class="design-one">{when !== null && `${when}: `}<Stamp outcome={verdictOf(found)} />{bad(found.findings)}</span>)}</>;
}

const bad = (findings: readonly { outcome: Outcome; name: string }[]) => {
  const names = findings.filter(({ outcome }) => outcome !== "pass").map(({ name }) => name);
  return names.length > 0 ? ` ${names.join(", ")}` : "";
};

function BoardPart({ of, at, circuits }: { of: Job; at: PlaceRecord; circuits: readonly PlaceRecord[] }) {
  const board = of.boards.find(({ id }) => id === idOf(at.place));
  if (!board) return null;
  const feed = of.circuits.find(({ id }) => id === board.fed_by);
  const b = words.board;
  const key = `paper-${board.id}`;
  return (
    <section class="paper-part" aria-labelledby={key}>
      <h2 id={key}>{w.board} {at.number}: {placeName(of, at.place)}</h2>
      <dl class="pairs">
        <Pair name={w.fedBy}>{feed?.name ?? board.fed_by ?? b.origin}</Pair>
        <Pair name={b.earthing}>{nameIn("board_earthing", board.earthing)}{board.ra !== null && `, ${w.raOf(amount(board.ra, "Ω"))}`}</Pair>
        <Pair name={w.heads.rcd}>{rcdText(board.rcd)}</Pair>
        <Pair name={b.enclosure}>{board.enclosure === null ? w.notSaid : nameIn("enclosure", board.enclosure)}</Pair>
        <Pair name={words.supply.earth}>{earthText(board.earthing_conductor)}; {words.supply.bonding}: {metalText(board.bonding)}</Pair>
        {board.conditional !== null && <Pair name={b.conditional}>{amount(board.conditional, "kA", 3)}</Pair>}
        <Pair name={w.design}><FactsShort at={at} /> <Designs at={at} /></Pair>
      </dl>
      {isCompared(board) && <WaysPart of={of} board={board} name={placeName(of, at.place)} />}
      {circuits.length > 0 && <Schedule of={of} at={at} circuits={circuits} />}
      <Results of={of} all={[at, ...circuits]} title={`${w.results}: ${placeName(of, at.place)}`} />
    </section>
  );
}

function FactsShort({ at }: { at: PlaceRecord }) {
  const wanted = ["demand", "zs", "ipf-max"];
  const symbols = new Map(at.design.flatMap(({ answer: { facts } }) => facts.map((one) => [one.fact, one.symbol])));
  return <>{wanted.filter((name) => fact(at, name) !== "").map((name) => `${symbols.get(name) ?? ""} ${fact(at, name)}`).join(", ")}</>;
}

function fact(at: PlaceRecord, name: string): string {
  return [...new Set(at.design.map(({ answer: found }) => found.facts.find((one) => one.fact === name)).filter((one) => one !== undefined && one.value !== null).map((one) => (one ? withUnit(one.shown, one.unit) : "")))].join(" / ");
}

/** By each way of judging, or by one. */
function largestZs(at: PlaceRecord, when: string | null = null): string {
  return [...new Set(at.design.filter((one) => when === null || one.when === when).map(({ answer: found }) => found.findings.find(({ check }) => check === "disconnection")).map((one) => (one && one.shown_limit !== "" ? withUnit(one.shown_limit, one.unit) : "")).filter((text) => text !== ""))].join(" / ");
}

const sizes = (section: Section) => {
  const { protective } = section;
  const cpc = protective.kind === "none" ? words.form.none : protective.csa === null ? nameIn("protective", protective.kind) : showNumber(protective.csa);
  return [showNumber(section.csa), ...(section.neutral_csa !== null && section.neutral_csa !== section.csa ? [`N ${showNumber(section.neutral_csa)}`] : []), cpc].join(" / ");
};

/** The circuits of a board as they were designed. */
function Schedule({ of, at, circuits }: { of: Job; at: PlaceRecord; circuits: readonly PlaceRecord[] }) {
  const h = w.heads;
  const title = `${w.circuits}: ${placeName(of, at.place)}`;
  return (
    <div class="paper-scroll" role="region" aria-label={title} tabIndex={0}>
      <table class="paper-table schedule">
        <caption>{title}</caption>
        <thead><tr>{[h.number, h.circuit, h.device, h.rcd, h.cable, h.run, h.load, h.zs, h.limit, h.drop, h.design].map((text) => <th key={text} scope="col">{text}</th>)}</tr></thead>
        <tbody>
          {circuits.map((one) => {
            const circuit = circuitOf(of, one.place);
            if (!circuit) return null;
            return (
              <tr key={circuit.id}>
                <td>{one.number}</td>
                <th scope="row">{circuit.name}<small>{[nameIn("use", circuit.use), nameIn("phase", circuit.phase), nameIn("shape", circuit.shape)].join(", ")}</small></th>
                <td>{deviceText(circuit.device)}</td>
                <td>{rcdText(circuit.rcd)}</td>
                <td>{[...new Set(circuit.sections.map(sizes))].map((text) => <div key={text}>{text}</div>)}<small>{[...new Set(circuit.sections.map(({ construction, material }) => `${shortNameIn("construction", construction)}, ${nameIn("material", material)}`))].join("; ")}</small></td>
                <td>{circuit.sections.map((section, index) => <div key={index}>{section.part === "spur" ? `${nameIn("part", "spur")}: ` : ""}{sectionLine({ ...section, csa: null })}</div>)}</td>
                <td>{fact(one, "ib")}</td>
                <td>{fact(one, "zs")}</td>
                <td>{largestZs(one)}</td>
                <td>{fact(one, "drop-share")}</td>
                <td><Designs at={one} /></td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

/** Every reading with its outcome, and what is still to be read. */
function Results({ of, all, title }: { of: Job; all: readonly PlaceRecord[]; title: string }) {
  const h = w.heads;
  const told = all.filter(({ lines, missing }) => lines.length > 0 || missing.length > 0);
  if (told.length === 0) return null;
  return (
    <div class="paper-scroll" role="region" aria-label={title} tabIndex={0}>
      <table class="paper-table results">
        <caption>{title}</caption>
        <thead><tr>{[h.test, h.reading, h.truly, h.wanted, h.expected, h.outcome].map((text) => <th key={text} scope="col">{text}</th>)}</tr></thead>
        {told.map((at) => (
          <tbody key={placeKey(at.place)}>
            <tr class="results-place"><th scope="rowgroup" colSpan={6}>{at.number} {placeName(of, at.place)} <span class={`results-state${at.may ? "" : " is-off"}`}>{at.through ? words.meter.complete : at.may ? words.meter.energise : words.meter.keepOff}</span></th></tr>
            {at.lines.map((line) => <ResultLine key={`${line.judged.path}${line.when ?? ""}`} line={line} at={at} of={of} />)}
            {at.lines.length === 0 && <tr><td colSpan={5}>{at.missing.join(", ")}</td><td><Stamp outcome={null} /></td></tr>}
          </tbody>
        ))}
      </table>
    </div>
  );
}

function ResultLine({ line: { judged, when, read }, at, of }: { line: Line; at: PlaceRecord; of: Job }) {
  const { unit } = judged;
  const truly = judged.low === null ? "" : judged.high === null ? `> ${withUnit(judged.shown_low, unit)}` : withUnit(words.meter.to(judged.shown_low, judged.shown_high), unit);
  const limit = judged.shown_limit === "" ? "" : (judged.sense === "at-most" ? w.upTo : w.atLeast)(withUnit(judged.shown_limit, unit));
  const expected = judged.shown_expected === "" ? "" : withUnit(judged.shown_expected, unit);
  const found = read ? foundOf(of, judged.path) : "";
  return (
    <tr class={read && judged.outcome !== "pass" ? "is-bad" : ""}>
      <td>{judged.name}{detailOf(of, judged)}{when !== null && <small>{words.ifEarthing(when)}</small>}</td>
      {found === "" ? (
        <>
          <td class="figure">{read ? shownShort(judged) : ""}</td>
          <td class="figure">{read ? truly : ""}</td>
          {limit === "" ? <td><NoLimit judged={judged} zs={largestZs(at, when)} /></td> : <td class="figure">{limit}</td>}
        </>
      ) : <td colSpan={3}>{found}</td>}
      <td class="figure">{expected}{read && judged.side !== null && judged.side !== "within" && <small>{words.meter.side[judged.side]}</small>}</td>
      <td><Stamp outcome={read ? judged.outcome : null} />{read && judged.outcome !== "pass" && <small>{[judged.meaning, ...(judged.ring?.patterns ?? []), ...judged.lacking].join(" ")}</small>}</td>
    </tr>
  );
}

/** Why a reading is held against nothing; of Zs the design's limit is known all the same, with the conductors hot. */
function NoLimit({ judged: { test, entry, lacking }, zs }: { judged: JudgedReading; zs: string }) {
  if (entry === "testing.ambient") return <>{w.noLimitCold}{test === "zs" && zs !== "" && <small>{w.zsHot(w.upTo(zs))}</small>}</>;
  if (entry === "testing.instruments") return <>{w.noLimitInstrument}</>;
  return <>{lacking.length > 0 ? w.noLimit : "\u2013"}</>;
}

/** What was found where nothing is read off. */
function foundOf(of: Job, path: string): string {
  const tests = testsIn(of, path);
  if (tests && "polarity" in tests && tests.polarity && path.endsWith(".polarity")) return nameIn("polarity", tests.polarity);
  return tests?.phase_sequence && path.endsWith(".phase_sequence") ? nameIn("rotation", tests.phase_sequence) : "";
}

function testsIn(of: Job, path: string) {
  const [, top, index] = /^(supply|boards|circuits)(?:\[(\d+)\])?\.tests/.exec(path) ?? [];
  return top === "supply" ? of.supply.tests : top === "boards" ? of.boards[Number(index)]?.tests : of.circuits[Number(index)]?.tests;
}

/** Several displays behind one result, each as it was read. */
function parts(all: readonly (readonly [string, Reading | null])[], unit: string, shift = 0): string {
  return all.flatMap(([name, reading]) => {
    const shown = figure(reading, shift);
    return shown === null ? [] : [`${name}: ${shown}${nb}${unit}`];
  }).join("; ");
}

/** What is said of a reading beside its figure: the voltage, the multiple, what is bonded. */
function detailOf(of: Job, judged: JudgedReading): string {
  const found = detail(of, judged.path);
  return found === "" ? "" : `, ${found}`;
}

function detail(of: Job, path: string): string {
  const m = words.meter;
  const [, list, nth] = /\.tests\.(\w+)(?:\[(\d+)\])?/.exec(path) ?? [];
  const tests = testsIn(of, path);
  if (!tests) return "";
  if (list === "insulation" && "insulation" in tests) {
    const one = tests.insulation[Number(nth)];
    return one ? [`${showNumber(one.test_voltage)}${nb}V`, one.circuits !== 1 && one.circuits !== null ? `${m.together}: ${showNumber(one.circuits)}` : "", one.gear ? m.gearConnected : ""].filter((text) => text !== "").join(", ") : "";
  }
  if (list === "rcd" && "rcd" in tests) {
    const one = tests.rcd[Number(nth)];
    return one ? m.rcdOf(m.multiples[one.multiple] ?? "", nameIn("wave", one.wave)) : "";
  }
  if (list === "ramp" && "ramp" in tests) return tests.ramp ? nameIn("wave", tests.ramp.wave) : "";
  if (list === "bonding" && "bonding" in tests) return tests.bonding[Number(nth)]?.name ?? "";
  if (list === "fault" && "fault" in tests && tests.fault) {
    const { line_neutral: ln, line_earth: le, three_phase: three } = tests.fault;
    return parts([[m.faultLn, ln], [m.faultLe, le], [m.fault3, three]], "kA", 3);
  }
  if (list === "electrode" && "electrode" in tests && tests.electrode?.kind === "three-point") {
    const { readings } = tests.electrode;
    return parts(m.stake.map((name, at) => [name, readings[at] ?? null]), "Ω");
  }
  if (list === "volt_drop" && "volt_drop" in tests && tests.volt_drop) {
    const drop = tests.volt_drop;
    return drop.kind === "impedances" ? parts([[m.point, drop.point], [m.origin, drop.origin]], "Ω")
      : [parts([[m.unloaded, drop.unloaded], [m.loaded, drop.loaded]], "V"), parts([[m.current, drop.current]], "A")].join("; ");
  }
  if (path.endsWith(".ring.sockets")) return w.fromRing;
  if (list === "ring" && "ring" in tests && tests.ring) {
    const { r1, rn, r2, sockets } = tests.ring;
    const show = (reading: typeof r1) => (reading === null ? "?" : "above" in reading ? `>${showNumber(reading.above)}` : showNumber(reading.shown));
    return [w.ringEnds(show(r1), show(rn), show(r2)), ...(sockets.length > 0 ? [w.atSockets(sockets.map((socket) => `${show(socket.line_neutral)} / ${show(socket.line_protective)}`).join(", "))] : [])].join("; ");
  }
  return "";
}

function Rest({ of, all }: { of: Job; all: readonly PlaceRecord[] }) {
  const taken = assumptions(all);
  const used = sources(all);
  const stops = stopsOf(all);
  const noted = all.flatMap((at) => notesOf(at.ways).map((note) => ({ at, note })));
  const notes = [...new Set(noted.map(({ note }) => note.text))].map((text) => ({
    text, where: [...new Set(noted.filter(({ note }) => note.text === text).map(({ at }) => at.number === "" ? placeName(of, at.place) : at.number))].join(", "),
  }));
  return (
    <section class="paper-part paper-rest">
      {stops.length > 0 && (
        <>
          <h2>{w.stops}</h2>
          <ul class="paper-stops">
            {stops.map(({ name, text, places: held }) => (
              <li key={`${name ?? ""} ${text}`}><b>{name === null ? text : `${name}: ${text}`}</b> {held.map((at) => `${at.number} ${placeName(of, at.place)}`.trim()).join(", ")}</li>
            ))}
          </ul>
        </>
      )}
      {notes.length > 0 && <><h2>{w.notes}</h2><ul class="plain">{notes.map(({ text, where }) => <li key={text}>{text} <small>({where})</small></li>)}</ul></>}
      <h2>{w.instruments}</h2>
      <p>{words.instruments.ambient}: {of.testing === null ? w.notEntered : amount(of.testing.ambient, "°C")}. {instrumentNames.map((name) => `${words.instruments.names[name]}: ${instrumentLine(of.testing, name)}`).join("; ")}.</p>
      {taken.length > 0 && <><h2>{w.assumptions}</h2><ul class="plain">{taken.map((one) => <li key={one}>{one}</li>)}</ul></>}
      {used.length > 0 && (
        <>
          <h2>{w.sources}</h2>
          <ul class="plain paper-sources">{used.map(({ rule, source, standing }) => <li key={rule + source}>{rule}: {source} <Standing of={standing} /></li>)}</ul>
        </>
      )}
      <p class="paper-legend">{w.legend}</p>
      <p class="paper-legend"><b>{w.pages}</b> {words.caution.short} {w.made(new Date().toLocaleDateString(words.tag, { dateStyle: "long" }))}</p>
    </section>
  );
}
