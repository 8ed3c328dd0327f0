// What a folded part holds, in one line: the values as entered, with the names the core gives them.

import type { Device, Job, Place, Section } from "../job/types";
import { showNumber } from "../job/number";
import { job } from "../state";
import { words } from "words:page";
import { nameIn, shortNameIn } from "./fields";
import { useReading } from "./hooks";

const dot = " · ";
const join = (parts: (string | null | undefined | false)[]) => parts.filter((part) => typeof part === "string" && part !== "").join(dot);
const amount = (value: number | null | undefined, unit: string, shift = 0) =>
  value === null || value === undefined || Number.isNaN(value) ? null : `${showNumber(value, shift)}\u00a0${unit}`;

export function Summary({ of }: { of: (job: Job) => string }) {
  return <>{useReading(() => of(job.value)).value}</>;
}

export function deviceLine(device: Device): string {
  return join([shortNameIn("family", device.family), amount(device.rating, "A")]);
}

/** The earthing of the supply, where it stands by itself. */
export function earthingOf({ supply }: Pick<Job, "supply">): string {
  return supply.earthing === "not-known" ? words.place.earthingUnknown : nameIn("supply_earthing", supply.earthing);
}

/** What protects a place: its device and its RCD. */
export function protection(of: Job, place: Place): string {
  const circuit = place.kind === "circuit" ? of.circuits.find(({ id }) => id === place.id) : undefined;
  const board = place.kind === "board" ? of.boards.find(({ id }) => id === place.id) : undefined;
  const rcd = circuit?.rcd ?? board?.rcd;
  const device = place.kind === "supply" ? of.supply.device : circuit?.device;
  return join([device && deviceLine(device), rcd && words.form.rcdOf(amount(rcd.sensitivity, "mA", -3) ?? "")]);
}

export const line = {
  arrives: ({ supply }: Job) => join([
    amount(supply.u0, "V"), words.supply.phase[supply.phases], earthingOf({ supply }),
    supply.ze === null ? null : words.form.zeOf(amount(supply.ze, "Ω") ?? ""),
  ]),
  fault: ({ supply }: Job) => join([
    amount(supply.fault_level, "kA", 3) ?? words.form.notGiven, nameIn("level_origin", supply.fault_level_from),
  ]),
  supplyDevice: ({ supply }: Job) => (supply.device ? deviceLine(supply.device) : words.form.notGiven),
  origin: ({ supply }: Job) => join([
    amount(supply.tails_csa, "mm²") ?? words.form.notGiven,
    supply.neutral_csa !== supply.tails_csa && amount(supply.neutral_csa, "mm²"),
  ]),
  supplyEarth: ({ supply }: Job) => join([
    supply.earthing_conductor ? amount(supply.earthing_conductor.csa, "mm²") : words.form.notGiven,
    supply.bonding && amount(supply.bonding.csa, "mm²"),
  ]),
  board: (id: string) => (job: Job) => {
    const board = job.boards.find((one) => one.id === id);
    if (!board) return "";
    const feeder = board.fed_by === null ? words.board.origin : job.circuits.find((one) => one.id === board.fed_by)?.name;
    return feeder ?? board.fed_by ?? "";
  },
  boardEarth: (id: string) => (job: Job) => {
    const board = job.boards.find((one) => one.id === id);
    return board ? join([nameIn("board_earthing", board.earthing), board.bonding && amount(board.bonding.csa, "mm²")]) : "";
  },
  boardDemand: (id: string) => (job: Job) => {
    const board = job.boards.find((one) => one.id === id);
    return board ? join([amount(board.demand, "A") ?? words.board.summed, board.rcd && words.form.rcdOf(amount(board.rcd.sensitivity, "mA", -3) ?? "")]) : "";
  },
  load: (id: string) => (job: Job) => {
    const circuit = job.circuits.find((one) => one.id === id);
    if (!circuit) return "";
    const { load } = circuit;
    const size = load.current === null && load.power === null ? words.circuit.loadBy.downstream : (amount(load.current, "A") ?? amount(load.power, "W"));
    return join([nameIn("use", circuit.use), size ?? words.form.notGiven]);
  },
  where: (id: string) => (job: Job) => {
    const circuit = job.circuits.find((one) => one.id === id);
    if (!circuit) return "";
    const { outdoors, bath, concealed, dwelling } = words.circuit;
    const yes = join([circuit.outdoors && outdoors, circuit.bath && bath, circuit.concealed && concealed.split(",")[0], circuit.dwelling && dwelling]);
    return yes === "" ? words.form.none : yes;
  },
  protect: (id: string) => (job: Job) => {
    return protection(job, { kind: "circuit", id });
  },
  section: (id: string, index: number) => (job: Job) => {
    const at = sectionAt(job, id, index);
    return at ? sectionLine(at) : "";
  },
  cable: (id: string, index: number) => (job: Job) => {
    const at = sectionAt(job, id, index);
    return at ? join([nameIn("construction", at.construction), nameIn("insulation", at.insulation), nameIn("protective", at.protective.kind)]) : "";
  },
  lying: (id: string, index: number) => (job: Job) => {
    const at = sectionAt(job, id, index);
    return at ? join([amount(at.ambient, "°C"), words.section.inGroup(at.grouped), amount(at.depth, "m")]) : "";
  },
};

function sectionAt(of: Job, id: string, index: number): Section | undefined {
  return of.circuits.find((one) => one.id === id)?.sections[index];
}

export function sectionLine(at: Section): string {
  return join([
    amount(at.length, "m") ?? words.section.missingLength, amount(at.csa, "mm²"), shortNameIn("method", at.method),
  ]);
}
