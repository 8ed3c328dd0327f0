// The job as it is saved and as it goes to the core, and the answer that comes back.
// Plain SI throughout: V, A, Ω, m, mm², °C, s, W, K·m/W. `job.schema.json` says the same for other programs.

export type DeviceFamily =
  | "breaker-b" | "breaker-c" | "breaker-d" | "rcbo-b" | "rcbo-c" | "rcbo-d"
  | "bs88-2" | "bs88-3" | "bs3036" | "bs1361" | "bs1362" | "gg";
/** A number that has to be there; null while it has not been entered. */
export type Entered = number | null;
export type Device = {
  family: DeviceFamily; rating: Entered; breaking: number | null; let_through: number | null; energy_class: number | null;
};
export type Rcd = { sensitivity: Entered; kind: "ac" | "a" | "f" | "b"; delay: "none" | "selective" };
export type Metal = "copper" | "aluminium" | "steel";
export type Conductor = { material: Metal; csa: Entered };
export type EarthingConductor = Conductor & { buried: boolean; mechanical: boolean; corrosion: boolean };

export type Supply = {
  current: "ac" | "dc";
  u0: Entered;
  phases: 1 | 3;
  earthing: "tn-s" | "tn-c-s" | "tt" | "not-known";
  ze: number | null;
  ze_from: "measured" | "declared" | "typical";
  ra: number | null;
  fault_level: number | null;
  fault_level_from: "measured" | "declared" | "typical" | "from-ze";
  x_over_r: number | null;
  device: Device | null;
  neutral_csa: number | null;
  tails_csa: number | null;
  earthing_conductor: EarthingConductor | null;
  extraneous: boolean;
  bonding: Conductor | null;
};

export type Board = {
  id: string;
  name: string;
  fed_by: string | null;
  earthing: "as-supply" | "own-electrode";
  ra: number | null;
  rcd: Rcd | null;
  conditional: number | null;
  extraneous: boolean;
  bonding: Conductor | null;
  earthing_conductor: EarthingConductor | null;
  demand: number | null;
};

export type LoadClass =
  | "lighting" | "heating" | "cooker" | "motor" | "water-instant" | "water-storage" | "floor-warming"
  | "sockets" | "stationary" | "other";
export type Load = {
  current: number | null;
  power: number | null;
  power_factor: Entered;
  class: LoadClass;
  points: Entered;
};

export type Protective = {
  kind: "core" | "separate" | "armour" | "armour-and-core" | "enclosure" | "none";
  material: Metal | null;
  csa: number | null;
  resistance: number | null;
};

export type Section = {
  length: Entered;
  part: "run" | "spur";
  spur_fuse: Device | null;
  material: "copper" | "aluminium";
  csa: Entered;
  neutral_csa: number | null;
  insulation: "thermoplastic-70" | "thermoplastic-90" | "thermosetting-90";
  construction: "single-cores" | "multicore" | "armoured" | "flat-twin";
  cores: Entered;
  operating_limit: number | null;
  protective: Protective;
  method:
    | "insulated-wall" | "conduit" | "clipped" | "air" | "duct" | "ground" | "ceiling-thin" | "ceiling-thick"
    | "stud-touching" | "stud-apart" | "surrounded";
  ambient: Entered;
  grouped: Entered;
  arrangement:
    | "bunched" | "single-layer-wall" | "single-layer-tray" | "ladder" | "touching" | "gap-diameter" | number;
  soil: number | null;
  depth: number | null;
  insulation_run: number | null;
};

export type Circuit = {
  id: string;
  name: string;
  board: string;
  phase: "l1" | "l2" | "l3" | "three";
  shape: "radial" | "ring";
  device: Device;
  rcd: Rcd | null;
  use: "sockets" | "lighting" | "fixed" | "distribution";
  outdoors: boolean;
  bath: boolean;
  concealed: boolean;
  dwelling: boolean;
  load: Load;
  sections: Section[];
};

export type Allowance = {
  first_amps: number; first: number; rest: number; add: number; largest: number; second: number; others: number;
};
export type Profile = {
  name: string;
  cmin: number;
  cmax: number;
  drop_lighting: number;
  drop_other: number;
  drop_basis: "full" | "load";
  source_electrode: number;
  touch_voltage: number;
  diversity: Record<LoadClass, Allowance>;
};

export type Job = {
  format: "faultpath-job";
  version: 1;
  name: string;
  notes: string | null;
  profile: "uk" | "iec" | Profile;
  supply: Supply;
  boards: Board[];
  circuits: Circuit[];
};

// What the core answers.

/** Doubtful: too near the limit to tell. Only a pass is a pass. */
export type Outcome = "pass" | "doubtful" | "fail" | "cannot-say";
export type FieldError = { path: string; field: string; reason: string; text: string };
export type Place = { kind: "supply" } | { kind: "board"; id: string } | { kind: "circuit"; id: string };
export type Fact = { fact: string; symbol: string; name: string; value: number | null; unit: string; shown: string };
export type Standing = "published" | "common practice" | "from memory" | "own";
export type Lacking = { text: string; path: string | null };
export type Finding = {
  check: string;
  name: string;
  outcome: Outcome;
  value: number | null;
  limit: number | null;
  unit: string;
  sense: "at-most" | "at-least";
  margin: number | null;
  section: number | null;
  shown_value: string;
  shown_limit: string;
  basis: string;
  source: string;
  standing: Standing;
  text: string;
  lacking: Lacking[];
  assumed: string[];
};
export type PlaceAnswer = { place: Place; outcome: Outcome; facts: Fact[]; findings: Finding[] };
export type Judgement = { earthing: "tn-s" | "tn-c-s" | "tt"; outcome: Outcome; places: PlaceAnswer[] };
export type Answer = { outcome: Outcome; errors: FieldError[]; judgements: Judgement[] };

export type Step = {
  place: Place;
  section: number | null;
  symbol: string;
  name: string;
  formula: string;
  filled: string;
  value: number;
  unit: string;
  shown: string;
  source: string;
  standing: Standing;
};
export type Sol = { value: number | null; unit: string; text: string };
/** One change may need several edits, as where the line and its protective conductor grow together. */
export type Change = { text: string; edits: { path: string; value: unknown }[] };
export type Solutions = { smallest_csa: Sol; greatest_length: Sol; largest_rating: Sol; changes: Change[] };
export type Choices = {
  csa: { copper: number[]; aluminium: number[] };
  ratings: Record<string, number[]>;
  sensitivities: number[];
  names: Record<string, Record<string, string>>;
  profiles: { uk: Profile; iec: Profile };
};
