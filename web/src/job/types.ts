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
  tests: SupplyTests | null;
};

export type SoilKind =
  | "clay" | "sandy-clay" | "surface-soil" | "moist-gravel" | "dry-gravel" | "limestone" | "sandstone" | "granite" | "concrete";
export type SituationKind =
  | "caravan" | "marina" | "fuel-station" | "construction-site" | "livestock" | "horticulture" | "swimming-pool" | "hot-tub"
  | "vehicle-charging" | "event" | "mobile-unit" | "mast" | "high-voltage" | "metal-clad" | "timber" | "outdoors";
/** The dimensions its kind has; the others stay null. */
export type PlannedElectrode = {
  kind: "rod" | "rods" | "plate" | "tape" | "wire" | "foundation";
  length: number | null;
  diameter: number | null;
  width: number | null;
  height: number | null;
  depth: number | null;
  count: number | null;
  layout: "line" | "square" | null;
  spacing: number | null;
  in_contact: boolean | null;
};
/** Where a board stands and what its earthing is compared by. */
export type Site = {
  soil: SoilKind | null;
  resistivity: number | null;
  season: number | null;
  electrode: PlannedElectrode | null;
  in_addition: boolean;
  rcd_kind: Rcd["kind"];
  least_load: number | null;
  limit: number | null;
  target: number | null;
  situations: SituationKind[];
};

export type Board = {
  id: string;
  name: string;
  fed_by: string | null;
  earthing: "as-supply" | "own-electrode";
  ra: number | null;
  /** Its case and all up to its RCDs' terminals; null: not said. */
  enclosure: "metal" | "insulated" | null;
  rcd: Rcd | null;
  conditional: number | null;
  extraneous: boolean;
  bonding: Conductor | null;
  earthing_conductor: EarthingConductor | null;
  demand: number | null;
  site: Site | null;
  tests: BoardTests | null;
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
  tests: CircuitTests | null;
};

// Test readings. A reading is what the display shows; null: not taken. MΩ for insulation.

/** `above`: over range; of an RCD's time, that it did not operate within it. Null while it has not been entered. */
export type Reading = { shown: Entered } | { above: Entered };
export type Rotation = "forward" | "backward";
export type PolarityFound =
  | "right" | "line-neutral" | "line-protective" | "neutral-protective" | "switch-in-neutral" | "lampholder";
export type Wave = "sine" | "half" | "smooth";
/** Largest of the lines; three_phase: line to line, where the meter can do that. A. */
export type FaultReadings = { line_neutral: Reading | null; line_earth: Reading | null; three_phase: Reading | null };
export type Electrode =
  | { kind: "three-point"; readings: [Reading | null, Reading | null, Reading | null] }
  | { kind: "loop"; reading: Reading | null };
export type Bonding = { name: string; length: Entered; material: Metal; csa: Entered; reading: Reading | null };
/** s; `above`: it did not operate within that time. */
export type RcdTest = { multiple: 0.5 | 1 | 2 | 5; wave: Wave; reading: Reading | null };
/** A */
export type Ramp = { wave: Wave; reading: Reading | null };
export type RingSocket = { line_neutral: Reading | null; line_protective: Reading | null; cables: number | null };
export type Ring = { r1: Reading | null; rn: Reading | null; r2: Reading | null; sockets: RingSocket[] };
/** V d.c. and MΩ; `circuits`: how many were tested together. */
export type Insulation = {
  test_voltage: Entered; gear: boolean; fixed_gear: boolean; circuits: Entered; reading: Reading | null;
};
export type VoltDrop =
  | { kind: "voltages"; unloaded: Reading | null; loaded: Reading | null; current: Reading | null }
  | { kind: "impedances"; point: Reading | null; origin: Reading | null };

export type SupplyTests = {
  ze: Reading | null;
  fault: FaultReadings | null;
  electrode: Electrode | null;
  bonding: Bonding[];
  phase_sequence: Rotation | null;
  /** The earthing conductor was taken off for a test and is not back. */
  earthing_out: boolean;
  /** The main switch is closed: boards at the origin are live. A board further on is live when its feed is. */
  energised: boolean;
};
export type BoardTests = {
  electrode: Electrode | null;
  fault: FaultReadings | null;
  bonding: Bonding[];
  phase_sequence: Rotation | null;
  rcd: RcdTest[];
  ramp: Ramp | null;
  earthing_out: boolean;
};
export type CircuitTests = {
  r1r2: Reading | null;
  r2: Reading | null;
  armour: Reading | null;
  ring: Ring | null;
  insulation: Insulation[];
  polarity: PolarityFound | null;
  zs: Reading | null;
  rcd: RcdTest[];
  ramp: Ramp | null;
  phase_sequence: Rotation | null;
  volt_drop: VoltDrop | null;
  /** Surge protection or electronic gear is part of it. */
  gear: boolean;
  /** It was disconnected for a test and is not back. */
  gear_out: boolean;
  energised: boolean;
};

/** Share of the reading (0.03 for 3 %), digits, step of the display, leads still to be taken off, marked range. */
export type Instrument = {
  share: Entered; digits: Entered; resolution: Entered; lead: Entered; from: Entered; to: number | null;
};
export type InstrumentName =
  | "insulation" | "loop" | "fault_current" | "low_resistance" | "earth_resistance" | "rcd_time" | "rcd_current"
  | "voltage" | "current";
export type Testing = {
  /** Of the conductors while they are tested, °C. */
  ambient: number | null;
  /** Null: the limits of IEC 61557; of voltage and current there are none, and null is not known. */
  instruments: Record<InstrumentName, Instrument | null>;
};

/** For the printed record. */
export type RecordTexts = {
  site: string | null; client: string | null; work: string | null; by: string | null; licence: string | null; on: string | null;
  meters: string | null; remarks: string | null;
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
  testing: Testing | null;
  record: RecordTexts | null;
  boards: Board[];
  circuits: Circuit[];
};

// What the core answers.

/** Doubtful: too near the limit to tell. Only a pass is a pass. */
export type Outcome = "pass" | "doubtful" | "fail" | "cannot-say";
/** `field`: what people call the entry, where it has a name. */
export type FieldError = { path: string; field: string | null; reason: string; text: string };
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
  /** What an instrument may be out where none of its own is entered. */
  instruments: Partial<Record<InstrumentName, {
    share: number; digits: number; resolution: number; from: number; to: number | null; text: string; source: string;
    standing: Standing;
  }>>;
  profiles: { uk: Profile; iec: Profile };
};

// What comes back of the readings.

export type ReadingTest =
  | "r1r2" | "r2" | "armour" | "bonding" | "ring" | "insulation" | "polarity" | "ze" | "zs" | "fault-current"
  | "rcd-time" | "rcd-ramp" | "electrode" | "phase-sequence" | "volt-drop";
export type TestStep =
  | "bonding" | "protective" | "armour" | "ring" | "insulation" | "polarity" | "electrode" | "ze" | "fault-current"
  | "zs" | "rcd" | "phase-sequence" | "volt-drop";
export type JudgedReading = {
  test: ReadingTest;
  name: string;
  /** Where the reading is in the job, and where it would be while it is not taken. */
  path: string;
  /** Of what it needs and nobody took, the limit and the design's value stand all the same. */
  taken: boolean;
  outcome: Outcome;
  /** What the display shows; null where it shows no one figure. */
  shown: Reading | null;
  value: number | null;
  low: number | null;
  /** Null with a low: over range. */
  high: number | null;
  limit: number | null;
  shown_value: string;
  shown_low: string;
  shown_high: string;
  shown_limit: string;
  unit: string;
  sense: "at-most" | "at-least";
  /** The design's value at the ambient temperature, and the band around it. */
  expected: number | null;
  band_low: number | null;
  band_high: number | null;
  shown_expected: string;
  shown_band: string;
  side: "below" | "within" | "above" | null;
  quick: { name: string; shown_limit: string; outcome: Outcome; standing: Standing } | null;
  meaning: string;
  suspects: string[];
  lacking: string[];
  /** The path of what is lacking, where that is not of the place itself. */
  entry: string | null;
  /** What it is held against: name and formula. */
  rule: string;
  source: string;
  standing: Standing;
  ring: RingFound | null;
};
export type RingFound = {
  patterns: string[];
  conductors: string[];
  /** The socket furthest from its value, counted from 0. */
  socket: number | null;
  raised: number;
  shown_raise: string;
  shown_expected: string;
  shown_band: string;
};
export type NextTest =
  | { kind: "test"; step: TestStep; name: string; before: string[]; again: Outcome | null }
  | { kind: "energise" }
  | { kind: "complete" };
/** `place`: what it is of, the place itself or one upstream. */
export type StopReason = { place: Place; text: string; step: TestStep | null; name: string | null; outcome: Outcome | null };
export type TestNote = { text: string; section: number | null; circuit: string | null; conductors: string[] };
/** What the installation is during a test. */
export type When = "dead" | "supply-only" | "live";
/** One step of the sequence of a place; outcome null: not made. */
export type TestStation = {
  step: TestStep; name: string; when: When; before: string[]; needed: boolean; outcome: Outcome | null;
};
export type PlaceTests = {
  place: Place;
  outcome: Outcome;
  /** At the ambient temperature, at 20 °C while that is not entered. */
  expected: Fact[];
  /** In their order: those it needs, and those that have a reading. */
  steps: TestStation[];
  tests: JudgedReading[];
  next: NextTest;
  energise: { may: boolean; stops: StopReason[] };
  notes: TestNote[];
};
export type TestsJudgement = { earthing: Judgement["earthing"]; outcome: Outcome; places: PlaceTests[] };
export type TestsAnswer = { outcome: Outcome; errors: FieldError[]; judgements: TestsJudgement[] };
