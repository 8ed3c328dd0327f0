// What is there, entry by entry: the supply, a board, a circuit and its run.

import { classOf, fresh } from "../job/fresh";
import { addSection, changeSections } from "../job/edit";
import { getAt, type Path } from "../job/path";
import type { Circuit, Section } from "../job/types";
import { hrefOfEarthing } from "../route";
import { change, edit, job, offered, tell } from "../state";
import { words } from "words:page";
import { ChoiceField, Choosing, fieldId, nameIn, NumberField, Optional, type Option, optionsOf, StepField, TextField, YesNo } from "./fields";
import { Fold, setOpen } from "./fold";
import { useError, useReading, useValue } from "./hooks";
import { Icon } from "./marks";
import { BondingFields, DeviceFields, EarthingConductorFields, RcdFields } from "./parts";
import { line, Summary } from "./summary";

const w = words;

export function SupplyForm() {
  const earthing = useValue(["supply", "earthing"]);
  const ra = useValue(["supply", "ra"]);
  const at = (...keys: string[]): Path => ["supply", ...keys];
  return (
    <>
      <Fold name="supply-arrives" title={w.supply.arrives} summary={<Summary of={line.arrives} />}
        covers={[at("current"), at("u0"), at("phases"), at("earthing"), at("ze"), at("ze_from"), at("ra")]}>
        <ChoiceField label={w.supply.earthing} path={at("earthing")} group="supply_earthing" />
        <NumberField label={w.supply.ze} path={at("ze")} unit="Ω" open />
        <ChoiceField label={w.supply.zeFrom} path={at("ze_from")} group="origin" />
        {(earthing === "tt" || earthing === "not-known" || ra !== null) && <NumberField label={w.supply.ra} path={at("ra")} unit="Ω" open />}
        <ChoiceField label={w.supply.phases} path={at("phases")} onPick={(picked) => edit(at("phases"), Number(picked))}
          options={[{ value: "1", text: w.supply.phase[1] }, { value: "3", text: w.supply.phase[3] }]} />
        <NumberField label={w.supply.u0} path={at("u0")} unit="V" />
        <ChoiceField label={w.supply.current} path={at("current")} group="current" />
      </Fold>
      <Fold name="supply-fault" title={w.supply.fault} summary={<Summary of={line.fault} />}
        covers={[at("fault_level"), at("fault_level_from"), at("x_over_r")]}>
        <NumberField label={w.supply.faultLevel} path={at("fault_level")} unit="kA" shift={3} open />
        <ChoiceField label={w.supply.faultFrom} path={at("fault_level_from")} group="level_origin" />
        <NumberField label={w.supply.xOverR} path={at("x_over_r")} open />
      </Fold>
      <Fold name="supply-device" title={w.supply.device} summary={<Summary of={line.supplyDevice} />} covers={[at("device")]}>
        <Optional label={w.supply.deviceFitted} path={at("device")} start={() => ({ ...fresh.device(), family: "bs88-3", rating: 100, breaking: null, energy_class: null })}>
          <DeviceFields path={at("device")} />
        </Optional>
      </Fold>
      <Fold name="supply-origin" title={w.supply.origin} summary={<Summary of={line.origin} />} covers={[at("tails_csa"), at("neutral_csa")]}>
        <StepField label={w.supply.tails} path={at("tails_csa")} unit="mm²" values={offered.value.csa.copper} open />
        <StepField label={w.supply.neutral} path={at("neutral_csa")} unit="mm²" values={offered.value.csa.copper} open />
      </Fold>
      <Fold name="supply-earth" title={w.supply.earth} summary={<Summary of={line.supplyEarth} />}
        covers={[at("earthing_conductor"), at("extraneous"), at("bonding")]}>
        <EarthingConductorFields path={at("earthing_conductor")} />
        <YesNo label={w.supply.extraneous} hint={w.supply.extraneousHint} path={at("extraneous")} />
        <BondingFields path={at("bonding")} />
      </Fold>
    </>
  );
}

export function BoardForm({ id, index }: { id: string; index: number }) {
  const at = (...keys: string[]): Path => ["boards", index, ...keys];
  const feeders = useReading(() => job.value.circuits
    .filter((circuit) => circuit.use === "distribution" || circuit.id === job.value.boards[index]?.fed_by)
    .map((circuit) => ({ value: circuit.id, text: circuit.name })));
  const own = useValue(at("earthing"));
  const feed = useValue(at("fed_by"));
  const ra = useValue(at("ra"));
  const enclosure = useValue(at("enclosure"));
  const fedBy = useValue(at("fed_by"));
  const supply = useValue(["supply", "earthing"]);
  const electrode = own === "own-electrode" || (fedBy === null && (supply === "tt" || supply === "not-known"));
  return (
    <>
      <Fold name={`board-${id}-what`} title={w.board.what} summary={<Summary of={line.board(id)} />} covers={[at("id"), at("name"), at("fed_by")]}>
        <TextField label={w.board.name} path={at("name")} />
        <ChoiceField label={w.board.fedBy} path={at("fed_by")} options={[{ value: "", text: w.board.origin }, ...feeders.value]}
          onPick={(picked) => edit(at("fed_by"), picked === "" ? null : picked)} />
      </Fold>
      <Fold name={`board-${id}-demand`} title={w.board.demand} summary={<Summary of={line.boardDemand(id)} />} covers={[at("demand"), at("rcd"), at("conditional")]}>
        <NumberField label={w.board.demandOf} hint={w.board.demandHint} path={at("demand")} unit="A" open />
        <NumberField label={w.board.conditional} hint={w.board.conditionalHint} path={at("conditional")} unit="kA" shift={3} open />
        <RcdFields path={at("rcd")} label={w.board.rcd} />
      </Fold>
      <Fold name={`board-${id}-earth`} title={w.board.earth} summary={<Summary of={line.boardEarth(id)} />}
        covers={[at("earthing"), at("ra"), at("enclosure"), at("extraneous"), at("bonding"), at("earthing_conductor")]}>
        <ChoiceField label={w.board.earthing} path={at("earthing")} group="board_earthing" />
        {(own === "own-electrode" || ra !== null) && <NumberField label={w.board.ra} path={at("ra")} unit="Ω" open />}
        {(electrode || (enclosure ?? null) !== null) && (
          <ChoiceField label={w.board.enclosure} hint={w.board.enclosureHint} path={at("enclosure")} group="enclosure" open />
        )}
        <EarthingConductorFields path={at("earthing_conductor")} />
        <YesNo label={w.supply.extraneous} hint={w.supply.extraneousHint} path={at("extraneous")} />
        <BondingFields path={at("bonding")} />
      </Fold>
      {feed !== null && <p><a class="act" href={hrefOfEarthing(id)}>{w.ways_of_earthing.open}<Icon name="go" /></a></p>}
    </>
  );
}

function LoadFields({ path, distribution }: { path: Path; distribution: boolean }) {
  const current = useValue([...path, "current"]) as number | null | undefined;
  const power = useValue([...path, "power"]) as number | null | undefined;
  const error = useError(path);
  const by = current !== null ? "current" : power !== null ? "power" : "downstream";
  const options: Option[] = (["current", "power"] as const).map((value) => ({ value, text: w.circuit.loadBy[value] }));
  if (distribution || by === "downstream") options.push({ value: "downstream", text: w.circuit.loadBy.downstream });
  return (
    <>
      <Choosing id={fieldId(path)} label={w.circuit.load} value={by} options={options} error={error} onPick={(picked) => {
        const load = getAt(job.value, path) as Circuit["load"];
        edit(path, { ...load, current: picked === "current" ? Number.NaN : null, power: picked === "power" ? Number.NaN : null });
      }} />
      {by === "current" && <NumberField label={w.circuit.current} path={[...path, "current"]} unit="A" empty={Number.NaN} />}
      {by === "power" && <NumberField label={w.circuit.power} path={[...path, "power"]} unit="W" empty={Number.NaN} />}
      <NumberField label={w.circuit.powerFactor} path={[...path, "power_factor"]} />
      <ChoiceField label={w.circuit.class} path={[...path, "class"]} group="class" />
      <NumberField label={w.circuit.points} hint={w.circuit.pointsHint} path={[...path, "points"]} />
    </>
  );
}

/** What a circuit feeds, and the kind of load that goes with it where none else was chosen. */
function feeds(path: Path, use: Circuit["use"]): void {
  const circuit = getAt(job.value, path) as Circuit;
  const { load } = circuit;
  edit(path, { ...circuit, use, load: load.class === classOf[circuit.use] ? { ...load, class: classOf[use] } : load });
}

export function CircuitForm({ id, index }: { id: string; index: number }) {
  const at = (...keys: string[]): Path => ["circuits", index, ...keys];
  const boards = useReading(() => job.value.boards.map((board) => ({ value: board.id, text: board.name })));
  const use = useValue(at("use"));
  const phase = useValue(at("phase"));
  const phases = useValue(["supply", "phases"]);
  return (
    <>
      <Fold name={`circuit-${id}-what`} title={w.circuit.what} summary={<Summary of={line.load(id)} />}
        covers={[at("id"), at("name"), at("use"), at("load"), at("board"), at("phase")]}>
        <TextField label={w.circuit.name} path={at("name")} />
        <ChoiceField label={w.circuit.use} path={at("use")} group="use" onPick={(picked) => feeds(at(), picked as Circuit["use"])} />
        <LoadFields path={at("load")} distribution={use === "distribution"} />
        <ChoiceField label={w.circuit.board} path={at("board")} options={boards.value} />
        {(phases !== 1 || phase !== "l1") && <ChoiceField label={w.circuit.phase} path={at("phase")} group="phase" />}
      </Fold>
      <Fold name={`circuit-${id}-protect`} title={w.circuit.protect} summary={<Summary of={line.protect(id)} />} covers={[at("device"), at("rcd")]}>
        <DeviceFields path={at("device")} />
        <RcdFields path={at("rcd")} label={w.circuit.rcd} />
      </Fold>
      <Fold name={`circuit-${id}-where`} title={w.circuit.where} summary={<Summary of={line.where(id)} />}
        covers={[at("outdoors"), at("bath"), at("concealed"), at("dwelling")]}>
        <YesNo label={w.circuit.outdoors} path={at("outdoors")} />
        <YesNo label={w.circuit.bath} path={at("bath")} />
        <YesNo label={w.circuit.concealed} path={at("concealed")} />
        <YesNo label={w.circuit.dwelling} path={at("dwelling")} />
      </Fold>
    </>
  );
}

/** How a stretch of cable is drawn on the spine. */
const drawn: Record<string, string> = {
  ground: "ground", duct: "ground", clipped: "clips", air: "air", conduit: "tube",
  "insulated-wall": "wool", "ceiling-thin": "wool", "ceiling-thick": "wool", "stud-touching": "wool", "stud-apart": "wool", surrounded: "wool",
};

export function Run({ id, index }: { id: string; index: number }) {
  const parts = useReading(() => (job.value.circuits[index]?.sections ?? []).map(({ part, method }) => ({ part, method })));
  const error = useError(["circuits", index, "sections"]);
  const add = (part: Section["part"]) => {
    const at = parts.value.length;
    change(addSection(job.value, id, part));
    setOpen(`section-${id}-${at}`, true);
    requestAnimationFrame(() => document.getElementById(fieldId(["circuits", index, "sections", at, "length"]))?.focus());
  };
  let runs = 0;
  let spurs = 0;
  return (
    <section class="run" aria-labelledby={`run-${id}`}>
      <h3 id={`run-${id}`} class="run-head">{w.circuit.run}</h3>
      <ChoiceField label={w.circuit.shape} path={["circuits", index, "shape"]} group="shape" />
      {error !== null && <p class="wrong">{error}</p>}
      <ol class="sections">
        {parts.value.map(({ part, method }, at) => (
          <li key={at} class={`stretch stretch-${drawn[method] ?? "clips"}${part === "spur" ? " is-spur" : ""}`}>
            <Fold name={`section-${id}-${at}`} level={4} class="fold-section"
              title={part === "spur" ? w.section.spur((spurs += 1)) : w.section.title((runs += 1))}
              summary={<Summary of={line.section(id, at)} />} covers={[["circuits", index, "sections", at]]}>
              <SectionForm circuit={id} path={["circuits", index, "sections", at]} index={at} count={parts.value.length} />
            </Fold>
          </li>
        ))}
      </ol>
      <div class="acts">
        <button type="button" class="act" onClick={() => add("run")}><Icon name="add" />{w.act.addSection}</button>
        <button type="button" class="act" onClick={() => add("spur")}><Icon name="add" />{w.act.addSpur}</button>
      </div>
    </section>
  );
}

function SectionForm({ circuit, path, index, count }: { circuit: string; path: Path; index: number; count: number }) {
  const at = (...keys: string[]): Path => [...path, ...keys];
  const held = useReading(() => getAt(job.value, path) as Section | undefined).value;
  const arrangementError = useError(at("arrangement"));
  if (!held) return null;
  const sizes = offered.value.csa[held.material];
  const { kind } = held.protective;
  const buried = held.method === "ground" || held.method === "duct";
  const gap = typeof held.arrangement === "number";
  const restructure = (next: (sections: Section[]) => Section[], open: number | null) => {
    change(changeSections(job.value, circuit, next));
    for (let i = 0; i <= count; i += 1) setOpen(`section-${circuit}-${i}`, i === open);
  };
  const swap = (other: number) => restructure((sections) => {
    const moved = sections.slice();
    const [one, two] = [moved[index], moved[other]];
    if (one && two) [moved[index], moved[other]] = [two, one];
    return moved;
  }, other);
  return (
    <>
      <NumberField label={w.section.length} path={at("length")} unit="m" />
      <StepField label={w.section.csa} path={at("csa")} unit="mm²" values={sizes} />
      <ChoiceField label={w.section.method} path={at("method")} group="method" />
      <Fold name={`section-${circuit}-${index}-cable`} level={5} class="field-wide" title={w.section.cable} summary={<Summary of={line.cable(circuit, index)} />}
        covers={["material", "insulation", "construction", "cores", "protective", "neutral_csa", "operating_limit"].map((key) => at(key))}>
        <ChoiceField label={w.section.construction} path={at("construction")} group="construction" />
        <ChoiceField label={w.section.insulation} path={at("insulation")} group="insulation" />
        <ChoiceField label={w.section.material} path={at("material")} group="material" />
        <NumberField label={w.section.cores} path={at("cores")} />
        <ChoiceField label={w.section.cpc} path={at("protective", "kind")} group="protective" />
        {kind !== "none" && <ChoiceField label={w.section.cpcMaterial} path={at("protective", "material")} group="material" open />}
        {kind !== "none" && <StepField label={w.section.cpcCsa} path={at("protective", "csa")} unit="mm²" values={offered.value.csa.copper} open />}
        {(kind === "armour" || kind === "armour-and-core" || kind === "enclosure" || held.protective.resistance !== null) && (
          <NumberField label={w.section.cpcResistance} path={at("protective", "resistance")} unit="Ω/km" open />
        )}
        <StepField label={w.section.neutral} path={at("neutral_csa")} unit="mm²" values={sizes} open />
        <NumberField label={w.section.limit} path={at("operating_limit")} unit="°C" open />
      </Fold>
      <Fold name={`section-${circuit}-${index}-place`} level={5} class="field-wide" title={w.section.place} summary={<Summary of={line.lying(circuit, index)} />}
        covers={["ambient", "grouped", "arrangement", "soil", "depth", "insulation_run", "part", "spur_fuse"].map((key) => at(key))}>
        <NumberField label={w.section.ambient} path={at("ambient")} unit="°C" />
        <NumberField label={w.section.grouped} path={at("grouped")} />
        <Choosing id={gap ? `${fieldId(at("arrangement"))}-kind` : fieldId(at("arrangement"))} label={w.section.arrangement} error={gap ? null : arrangementError} value={gap ? "gap" : String(held.arrangement)}
          options={[...optionsOf(at("arrangement"), "arrangement"), { value: "gap", text: w.section.arrangementGap }]}
          onPick={(picked) => edit(at("arrangement"), picked === "gap" ? Number.NaN : picked)} />
        {gap && <NumberField label={w.section.gap} path={at("arrangement")} unit="m" empty={Number.NaN} />}
        {(buried || held.soil !== null) && <NumberField label={w.section.soil} path={at("soil")} unit="K·m/W" open />}
        {(buried || held.depth !== null) && <NumberField label={w.section.depth} path={at("depth")} unit="m" open />}
        <NumberField label={w.section.insulationRun} path={at("insulation_run")} unit="m" open />
        <ChoiceField label={w.section.part} path={at("part")} group="part" />
        {(held.part === "spur" || held.spur_fuse) && (
          <Optional label={w.section.spurFuse} path={at("spur_fuse")} start={() => ({ ...fresh.device(), family: "bs1362", rating: 13, breaking: null, energy_class: null })}>
            <DeviceFields path={at("spur_fuse")} />
          </Optional>
        )}
      </Fold>
      <div class="acts field-wide">
        {index > 0 && <button type="button" class="act" aria-label={w.act.nearerFull} onClick={() => swap(index - 1)}><Icon name="up" />{w.act.nearer}</button>}
        {index < count - 1 && <button type="button" class="act" aria-label={w.act.furtherFull} onClick={() => swap(index + 1)}><Icon name="down" />{w.act.further}</button>}
        <button type="button" class="act" onClick={() => restructure((all) => all.toSpliced(index + 1, 0, structuredClone(held)), index + 1)}>
          <Icon name="copy" />{w.act.copy}
        </button>
        <button type="button" class="act act-remove" onClick={() => {
          restructure((all) => all.toSpliced(index, 1), null);
          tell(w.act.removed(held.part === "spur" ? nameIn("part", "spur") : w.section.title(index + 1)), true);
        }}>
          <Icon name="remove" />{w.act.remove}
        </button>
      </div>
    </>
  );
}
