// What a new thing starts as. These are starting values to be looked at and changed, not rules.

import type {
  Board, BoardTests, Circuit, CircuitTests, Device, Instrument, Job, PlannedElectrode, Rcd, RecordTexts, Section, Site, SupplyTests, Testing,
} from "./types";

const device: Device = { family: "rcbo-b", rating: 16, breaking: 6000, let_through: null, energy_class: 3 };
const rcd: Rcd = { sensitivity: 0.03, kind: "a", delay: "none" };

const section: Section = {
  length: null,
  part: "run",
  spur_fuse: null,
  material: "copper",
  csa: 2.5,
  neutral_csa: null,
  insulation: "thermoplastic-70",
  construction: "flat-twin",
  cores: 2,
  operating_limit: null,
  protective: { kind: "core", material: "copper", csa: 1.5, resistance: null },
  method: "clipped",
  ambient: 30,
  grouped: 1,
  arrangement: "bunched",
  soil: null,
  depth: null,
  insulation_run: null,
};

const board: Omit<Board, "id" | "name" | "fed_by"> = {
  earthing: "as-supply",
  ra: null,
  enclosure: null,
  rcd: null,
  conditional: null,
  extraneous: false,
  bonding: null,
  earthing_conductor: null,
  demand: null,
  site: null,
  tests: null,
};

/** Nothing of the ground is taken for known. */
const site: Site = {
  soil: null,
  resistivity: null,
  season: null,
  electrode: null,
  in_addition: false,
  rcd_kind: "a",
  least_load: null,
  limit: null,
  target: null,
  situations: [],
};

const electrode: PlannedElectrode = {
  kind: "rod",
  length: null,
  diameter: null,
  width: null,
  height: null,
  depth: null,
  count: null,
  layout: null,
  spacing: null,
  in_contact: null,
};

const testing: Testing = {
  ambient: null,
  instruments: {
    insulation: null,
    loop: null,
    fault_current: null,
    low_resistance: null,
    earth_resistance: null,
    rcd_time: null,
    rcd_current: null,
    voltage: null,
    current: null,
  },
};

const supplyTests: SupplyTests = {
  ze: null,
  fault: null,
  electrode: null,
  bonding: [],
  phase_sequence: null,
  earthing_out: false,
  energised: false,
};

const boardTests: BoardTests = {
  electrode: null,
  fault: null,
  bonding: [],
  phase_sequence: null,
  rcd: [],
  ramp: null,
  earthing_out: false,
};

const circuitTests: CircuitTests = {
  r1r2: null,
  r2: null,
  armour: null,
  ring: null,
  insulation: [],
  polarity: null,
  zs: null,
  rcd: [],
  ramp: null,
  phase_sequence: null,
  volt_drop: null,
  gear: false,
  gear_out: false,
  energised: false,
};

const instrument: Instrument = { share: null, digits: null, resolution: null, lead: 0, from: 0, to: null };

type NewCircuit = Omit<Circuit, "id" | "name" | "board">;

/** The kind of load that goes with what a circuit feeds, until another is chosen. */
export const classOf: Record<Circuit["use"], Circuit["load"]["class"]> = { sockets: "sockets", lighting: "lighting", fixed: "other", distribution: "other" };

/** A length is always asked for: it starts empty, and the core says so until it is entered. */
export const fresh = {
  device: (): Device => ({ ...device }),
  rcd: (): Rcd => ({ ...rcd }),
  section: (): Section => structuredClone(section),
  board: () => ({ ...board }),
  site: (): Site => ({ ...site, situations: [] }),
  electrode: (kind: PlannedElectrode["kind"] = "rod"): PlannedElectrode => ({ ...electrode, kind }),
  testing: (): Testing => structuredClone(testing),
  supplyTests: (): SupplyTests => structuredClone(supplyTests),
  boardTests: (): BoardTests => structuredClone(boardTests),
  circuitTests: (): CircuitTests => structuredClone(circuitTests),
  instrument: (): Instrument => ({ ...instrument }),
  record: (): RecordTexts => ({ site: null, client: null, work: null, by: null, licence: null, on: null, meters: null, remarks: null }),
  circuit: (job: Job): NewCircuit => ({
    phase: "l1",
    shape: "radial",
    device: { ...device },
    rcd: { ...rcd },
    use: "sockets",
    outdoors: false,
    bath: false,
    concealed: false,
    dwelling: job.circuits.some(({ dwelling }) => dwelling),
    load: { current: Number.NaN, power: null, power_factor: 1, class: "sockets", points: 1 },
    sections: [structuredClone(section)],
    tests: null,
  }),
  line: (job: Job): NewCircuit => ({
    phase: job.supply.phases === 3 ? "three" : "l1",
    shape: "radial",
    device: { family: "bs88-2", rating: 40, breaking: null, let_through: null, energy_class: null },
    rcd: null,
    use: "distribution",
    outdoors: false,
    bath: false,
    concealed: false,
    dwelling: false,
    load: { current: null, power: null, power_factor: 1, class: "other", points: 1 },
    sections: [
      {
        ...structuredClone(section),
        csa: 16,
        insulation: "thermosetting-90",
        construction: "armoured",
        operating_limit: 70,
        cores: job.supply.phases === 3 ? 4 : 3,
        protective: { kind: "armour-and-core", material: "copper", csa: 16, resistance: null },
      },
    ],
    tests: null,
  }),
  job: (name: string, boardName: string): Job => ({
    format: "faultpath-job",
    version: 1,
    name,
    notes: null,
    profile: "uk",
    supply: {
      current: "ac",
      u0: 230,
      phases: 1,
      earthing: "not-known",
      ze: null,
      // Whoever has measured says so.
      ze_from: "declared",
      ra: null,
      fault_level: null,
      fault_level_from: "declared",
      x_over_r: null,
      device: null,
      neutral_csa: null,
      tails_csa: null,
      earthing_conductor: null,
      extraneous: true,
      bonding: null,
      tests: null,
    },
    testing: null,
    record: null,
    boards: [{ ...board, id: "b1", name: boardName, fed_by: null }],
    circuits: [],
  }),
};
