// What is entered at each step of the sequence.

import { getAt, pathText, type Path } from "../job/path";
import type {
  Bonding, Electrode, FaultReadings, Insulation, Place, Ramp, RcdTest, Ring, RingSocket, TestStep, VoltDrop,
} from "../job/types";
import { lastRead } from "../answers";
import { job, offered } from "../state";
import { toldAt, type Station, type Told } from "../tested";
import { words } from "words:page";
import { fullPath, put, ReadingField, Said, within, type Spot } from "./entry";
import { ChoiceField, Choosing, fieldId, nameIn, NumberField, StepField, Switch, TextField, type Option } from "./fields";
import { useReading } from "./hooks";
import { Icon } from "./marks";

const w = words.meter;

type Body = { spot: Spot; told: readonly Told[] };

/** Whether a step of the sequence is entered at a kind of place. */
export function entersAt(step: TestStep, kind: Place["kind"]): boolean {
  return bodies[kind][step] !== undefined;
}

export function StationBody({ station, place, base }: { station: Station; place: Place; base: Path }) {
  const Body = bodies[place.kind][station.step];
  return Body ? <Body spot={{ place, base, keys: [] }} told={station.readings} /> : null;
}

function useHeld(spot: Spot): unknown {
  const path = fullPath(spot);
  return useReading(() => getAt(job.value, path) ?? null).value;
}

const at = (told: readonly Told[], spot: Spot) => toldAt(told, pathText(fullPath(spot)));

type One = { label: string; unit: string; shift?: number; beyond?: "over" | "noTrip" | null; small?: boolean };

function Single({ spot, told, ...one }: Body & One) {
  return <ReadingField key={pathText(fullPath(spot))} spot={spot} told={at(told, spot)} {...one} />;
}

function Ze({ spot, told }: Body) {
  return (
    <>
      <Single spot={within(spot, "ze")} told={told} label={w.ze} unit="Ω" />
      <EarthingOut spot={spot} />
    </>
  );
}

function EarthingOut({ spot }: { spot: Spot }) {
  const path = within(spot, "earthing_out");
  const on = useHeld(path) === true;
  return <Switch id={fieldId(fullPath(path))} label={w.earthingOut} on={on} onFlip={(next) => put(path, next)} />;
}

function Protective({ spot, told }: Body) {
  return (
    <>
      <Single spot={within(spot, "r1r2")} told={told} label={w.r1r2} unit="Ω" />
      <Single spot={within(spot, "r2")} told={told} label={w.r2} unit="Ω" />
      {at(told, within(spot, "ring")).map((one) => <Said key={one.path} told={one} name={w.ringR1R2} title={w.ringR1R2} />)}
    </>
  );
}

function Armour({ spot, told }: Body) {
  return <Single spot={within(spot, "armour")} told={told} label={w.armour} unit="Ω" />;
}

function Zs({ spot, told }: Body) {
  return <Single spot={within(spot, "zs")} told={told} label={w.zs} unit="Ω" />;
}

/** Things entered one after the other: each with its own entries and a way to take it out. */
function List<T>({ spot, told, start, add, name, children }: Body & {
  start: () => T; add: string; name: (one: T, index: number) => string;
  children: (one: T, spot: Spot, told: readonly Told[], index: number) => preact.ComponentChildren;
}) {
  const all = (useHeld(spot) ?? []) as T[];
  return (
    <>
      {all.map((one, index) => {
        const here = within(spot, index);
        return (
          <fieldset key={index} class="several">
            <legend class="several-name">{name(one, index)}</legend>
            {children(one, here, at(told, here), index)}
            <button type="button" class="link link-remove" onClick={() => put(spot, all.toSpliced(index, 1))}>
              <Icon name="remove" />{w.removeReading(name(one, index))}
            </button>
          </fieldset>
        );
      })}
      <div class="acts"><button type="button" class="act" onClick={() => {
        put(spot, [...all, start()]);
        const first = pathText([...fullPath(spot), all.length]);
        requestAnimationFrame(() => document.querySelector<HTMLElement>(`[id^="${CSS.escape(`f-${first}`)}"]`)?.focus());
      }}><Icon name="add" />{add}</button></div>
    </>
  );
}

function BondingList({ spot, told }: Body) {
  const own = within(spot, "bonding");
  const start = (): Bonding => {
    const designed = (getAt(job.peek(), spot.base.slice(0, -1)) as { bonding?: { material: Bonding["material"]; csa: number | null } | null } | undefined)?.bonding;
    return { name: "", length: null, material: designed?.material ?? "copper", csa: designed?.csa ?? null, reading: null };
  };
  return (
    <List<Bonding> spot={own} told={told} start={start} add={w.addBonding} name={(one, index) => (one.name === "" ? w.bondingOf(index + 1) : one.name)}>
      {(one, here, mine) => (
        <div class="grid">
          <TextField label={w.bondingTo} path={fullPath(within(here, "name"))} />
          <NumberField label={w.length} path={fullPath(within(here, "length"))} unit="m" />
          <StepField label={w.size} path={fullPath(within(here, "csa"))} unit="mm²" values={one.material === "aluminium" ? offered.value.csa.aluminium : offered.value.csa.copper} />
          <ChoiceField label={w.metal} path={fullPath(within(here, "material"))} group="material" />
          <div class="field-wide"><ReadingField spot={within(here, "reading")} label={w.reads} unit="Ω" told={mine} /></div>
        </div>
      )}
    </List>
  );
}

function InsulationList({ spot, told }: Body) {
  const own = within(spot, "insulation");
  const gear = useHeld(within(spot, "gear")) === true;
  const out = useHeld(within(spot, "gear_out")) === true;
  const start = (): Insulation => ({ test_voltage: 500, gear: false, fixed_gear: false, circuits: 1, reading: null });
  return (
    <>
      <Switch id={fieldId(fullPath(within(spot, "gear")))} label={w.gear} on={gear} onFlip={(on) => put(within(spot, "gear"), on)} />
      {(gear || out) && <Switch id={fieldId(fullPath(within(spot, "gear_out")))} label={w.gearOut} on={out} onFlip={(on) => put(within(spot, "gear_out"), on)} />}
      <List<Insulation> spot={own} told={told} start={start} add={w.addReading} name={(_, index) => w.insulationOf(index + 1)}>
        {(one, here, mine) => (
          <>
            <ReadingField spot={within(here, "reading")} label={w.insulation} unit="MΩ" told={mine} />
            <div class="grid">
              <Choosing id={fieldId(fullPath(within(here, "test_voltage")))} label={w.testVoltage} value={String(one.test_voltage ?? "")} error={null}
                options={["250", "500", "1000"].map((value) => ({ value, text: `${value} V` }))} onPick={(picked) => put(within(here, "test_voltage"), Number(picked))} />
              <NumberField label={w.together} path={fullPath(within(here, "circuits"))} />
              {(gear || one.gear) && <Switch id={fieldId(fullPath(within(here, "gear")))} label={w.gearConnected} on={one.gear} onFlip={(on) => put(within(here, "gear"), on)} />}
              {one.gear && <Switch id={fieldId(fullPath(within(here, "fixed_gear")))} label={w.gearFixed} on={one.fixed_gear} onFlip={(on) => put(within(here, "fixed_gear"), on)} />}
            </div>
          </>
        )}
      </List>
    </>
  );
}

/** The choices of a group as the core names them. */
function named(group: string): Option[] {
  return Object.entries(offered.value.names[group] ?? {}).map(([value, text]) => ({ value, text }));
}

function Pick({ spot, told, label, group }: Body & { label: string; group: string }) {
  const held = useHeld(spot) as string | null;
  const options: Option[] = [{ value: "", text: w.notYet }, ...named(group)];
  return (
    <>
      <Choosing id={fieldId(fullPath(spot))} label={label} value={held ?? ""} options={options} error={null} onPick={(picked) => {
        put(spot, picked === "" ? null : picked);
        lastRead.value = { place: spot.place, path: pathText(fullPath(spot)) };
      }} />
      {held !== null && at(told, spot).map((one) => <Said key={one.path} told={one} name={label} />)}
    </>
  );
}

function PolarityPick({ spot, told }: Body) {
  return <Pick spot={within(spot, "polarity")} told={told} label={w.polarity} group="polarity" />;
}

function RotationPick({ spot, told }: Body) {
  return <Pick spot={within(spot, "phase_sequence")} told={told} label={w.rotation} group="rotation" />;
}

function FaultCurrents({ spot, told }: Body) {
  const own = within(spot, "fault");
  const held = useHeld(own) as FaultReadings | null;
  const three = useReading(() => job.value.supply.phases === 3).value;
  const fields: [keyof FaultReadings, string][] = [["line_neutral", w.faultLn], ["line_earth", w.faultLe], ...(three || held?.three_phase ? [["three_phase", w.fault3] as ["three_phase", string]] : [])];
  return (
    <>
      {fields.map(([key, label]) => (
        <ReadingField key={key} spot={within(own, key)} label={label} unit="kA" shift={3} told={at(told, within(own, key))} />
      ))}
      {told.filter(({ path }) => path === pathText(fullPath(own))).map((one) => <Said key={one.path} told={one} name={w.steps["fault-current"]} />)}
    </>
  );
}

function ElectrodeEntry({ spot, told }: Body) {
  const own = within(spot, "electrode");
  const held = useHeld(own) as Electrode | null;
  const kind = held?.kind ?? "none";
  const made: Record<string, () => Electrode | null> = {
    none: () => null,
    "three-point": () => ({ kind: "three-point", readings: [null, null, null] }),
    loop: () => ({ kind: "loop", reading: null }),
  };
  return (
    <>
      <Choosing id={fieldId(fullPath(own))} label={w.electrodeKind} value={kind} error={null}
        options={[{ value: "none", text: w.notYet }, ...named("electrode_test")]} onPick={(picked) => put(own, made[picked]?.() ?? null)} />
      {held?.kind === "loop" && <ReadingField spot={within(own, "reading")} label={w.loop} unit="Ω" />}
      {held?.kind === "three-point" && w.stake.map((label, index) => <ReadingField key={index} small spot={within(own, "readings", index)} label={label} unit="Ω" />)}
      {held !== null && at(told, own).map((one) => <Said key={one.path} told={one} name={w.steps.electrode} />)}
      <EarthingOut spot={spot} />
    </>
  );
}

function Rcds({ spot, told }: Body) {
  const own = within(spot, "rcd");
  const ramp = within(spot, "ramp");
  const rising = useHeld(ramp) as Ramp | null;
  const multiples = (["0.5", "1", "2", "5"] as const).map((value) => ({ value, text: w.multiples[value] ?? value }));
  const waves = named("wave");
  // The usual order; one of each first.
  const start = (): RcdTest => {
    const held = (getAt(job.peek(), fullPath(own)) ?? []) as RcdTest[];
    const multiple = ([0.5, 1, 5] as const).find((one) => !held.some((test) => test.multiple === one)) ?? 1;
    return { multiple, wave: held.at(-1)?.wave ?? "sine", reading: null };
  };
  return (
    <>
      <h4 class="small-head">{w.rcdTests}</h4>
      <List<RcdTest> spot={own} told={told} start={start} add={w.addRcd} name={(one) => w.rcdOf(w.multiples[one.multiple] ?? "", nameIn("wave", one.wave))}>
        {(one, here, mine) => (
          <>
            <div class="grid">
              <Choosing id={fieldId(fullPath(within(here, "multiple")))} label={w.multiple} value={String(one.multiple)} error={null} options={multiples}
                onPick={(picked) => put(within(here, "multiple"), Number(picked))} />
              <Choosing id={fieldId(fullPath(within(here, "wave")))} label={w.wave} value={one.wave} error={null} options={waves}
                onPick={(picked) => put(within(here, "wave"), picked)} />
            </div>
            <ReadingField spot={within(here, "reading")} label={w.time} unit="ms" shift={-3} beyond="noTrip" told={mine} />
          </>
        )}
      </List>
      <h4 class="small-head">{w.ramp}</h4>
      <Switch id={fieldId(fullPath(ramp))} label={w.rampOn} on={rising !== null} onFlip={(on) => put(ramp, on ? { wave: "sine", reading: null } : null)} />
      {rising && (
        <>
          <Choosing id={fieldId(fullPath(within(ramp, "wave")))} label={w.wave} value={rising.wave} error={null} options={waves} onPick={(picked) => put(within(ramp, "wave"), picked)} />
          <ReadingField spot={within(ramp, "reading")} label={w.rampAt} unit="mA" shift={-3} beyond="noTrip" told={at(told, ramp)} />
        </>
      )}
    </>
  );
}

function VoltDrops({ spot, told }: Body) {
  const own = within(spot, "volt_drop");
  const held = useHeld(own) as VoltDrop | null;
  const made: Record<string, () => VoltDrop | null> = {
    none: () => null,
    voltages: () => ({ kind: "voltages", unloaded: null, loaded: null, current: null }),
    impedances: () => ({ kind: "impedances", point: null, origin: null }),
  };
  return (
    <>
      <Choosing id={fieldId(fullPath(own))} label={w.dropKind} value={held?.kind ?? "none"} error={null}
        options={[{ value: "none", text: w.notYet }, ...named("volt_drop_test")]} onPick={(picked) => put(own, made[picked]?.() ?? null)} />
      {held?.kind === "voltages" && (
        <>
          <ReadingField small spot={within(own, "unloaded")} label={w.unloaded} unit="V" />
          <ReadingField small spot={within(own, "loaded")} label={w.loaded} unit="V" />
          <ReadingField small spot={within(own, "current")} label={w.current} unit="A" />
        </>
      )}
      {held?.kind === "impedances" && (
        <>
          <ReadingField small spot={within(own, "point")} label={w.point} unit="Ω" />
          <ReadingField small spot={within(own, "origin")} label={w.origin} unit="Ω" />
        </>
      )}
      {held !== null && at(told, own).map((one) => <Said key={one.path} told={one} name={w.steps["volt-drop"]} />)}
    </>
  );
}

function Rings({ spot, told }: Body) {
  const own = within(spot, "ring");
  const ring = useHeld(own) as Ring | null;
  const sockets = ring?.sockets ?? [];
  // The readings of a ring are made together, so that each can be entered first.
  const whole = (): Ring => ring ?? { r1: null, rn: null, r2: null, sockets: [] };
  const keep = (next: Partial<Ring>) => put(own, { ...whole(), ...next });
  const ends: ["r1" | "rn" | "r2", string][] = [["r1", w.r1], ["rn", w.rn], ["r2", w.ringR2]];
  const blank: RingSocket = { line_neutral: null, line_protective: null, cables: null };
  const found = at(told, own);
  return (
    <>
      <h4 class="small-head">{w.ends}</h4>
      <div class="trio">
        {ends.map(([key, label]) => <ReadingField key={key} small spot={within(own, key)} label={label} unit="Ω" />)}
      </div>
      <h4 class="small-head">{w.crossed}</h4>
      <p class="hint">{w.crossedHint}</p>
      <ol class="ring-sockets">
        {sockets.map((_, index) => (
          <li key={index}>
            <fieldset class="several">
              <legend class="several-name">{w.socket(index + 1)}</legend>
              <div class="trio">
                <ReadingField small spot={within(own, "sockets", index, "line_neutral")} label={w.lineNeutral} unit="Ω" />
                <ReadingField small spot={within(own, "sockets", index, "line_protective")} label={w.lineProtective} unit="Ω" />
              </div>
              <div class="socket-foot">
                <NumberField label={w.cables} path={fullPath(within(own, "sockets", index, "cables"))} open />
                <button type="button" class="act act-remove" aria-label={w.removeSocket(index + 1)} onClick={() => keep({ sockets: sockets.toSpliced(index, 1) })}><Icon name="remove" /></button>
              </div>
            </fieldset>
          </li>
        ))}
      </ol>
      <div class="acts"><button type="button" class="act" onClick={() => {
        keep({ sockets: [...sockets, { ...blank }] });
        const id = fieldId(fullPath(within(own, "sockets", sockets.length, "line_neutral")));
        requestAnimationFrame(() => document.getElementById(id)?.focus());
      }}><Icon name="add" />{w.addSocket}</button></div>
      {found.map((one) => <RingSaid key={one.path} told={one} />)}
      {found.map((one) => <Said key={one.path} told={one} name={w.steps.ring} />)}
    </>
  );
}

/** What the readings of the ring mean together, in words. */
function RingSaid({ told }: { told: Told }) {
  const [first] = told.each;
  const ring = first?.judged.ring;
  if (!ring || (ring.patterns.length === 0 && ring.shown_expected === "")) return null;
  return (
    <div class="ring-said">
      <p class="small-head">{w.ringSays}</p>
      {ring.patterns.length > 0 && <ul class="plain">{ring.patterns.map((one) => <li key={one}>{one}</li>)}</ul>}
      {ring.conductors.length > 0 && <p>{w.ringIn}: {ring.conductors.join(", ")}.</p>}
      {ring.socket !== null && ring.raised > 0 && <p>{w.ringFurthest(ring.socket + 1)}{ring.shown_raise !== "" && ` (+${ring.shown_raise})`}. {w.ringRaised(ring.raised)}.</p>}
      {ring.shown_expected !== "" && <p>{w.ringExpected}: <b>{ring.shown_expected}</b>{ring.shown_band !== "" && ` ± ${ring.shown_band}`}</p>}
    </div>
  );
}

const bodies: Record<Place["kind"], Partial<Record<TestStep, (props: Body) => preact.JSX.Element>>> = {
  supply: { bonding: BondingList, electrode: ElectrodeEntry, ze: Ze, "fault-current": FaultCurrents, "phase-sequence": RotationPick },
  board: { bonding: BondingList, electrode: ElectrodeEntry, "fault-current": FaultCurrents, rcd: Rcds, "phase-sequence": RotationPick },
  circuit: {
    protective: Protective, armour: Armour, ring: Rings, insulation: InsulationList, polarity: PolarityPick, zs: Zs, rcd: Rcds, "phase-sequence": RotationPick, "volt-drop": VoltDrops,
  },
};

