// The C interface of Faultpath: made by cbindgen of core/ffi/src, don't edit.
//
// An aid to people who are competent and licensed to design and test; local codes decide.
//
// Every function returns a status and gives everything else through a pointer. The caller owns all memory;
// nothing is allocated and nothing is kept of what a pointer points to after a function returned, but in the
// memory handed over as fp_installation or fp_design. An fp_error is told why an input was refused; it may be null.
//
// Every choice is a code of the enum named beside its field; 0 is never one, so that a field left out of an
// initialiser is refused and not taken for something. What may be unknown is an fp_optional: left out it is
// not given, and not zero.
//
// Results are set before anything is looked at, to what is never a pass: an outcome to FP_OUTCOME_CANNOT_SAY.
//
// Units are those of SI, areas in mm², temperatures in degrees Celsius, insulation in megohms.


#ifndef FAULTPATH_H
#define FAULTPATH_H

#include <stddef.h>
#include <stdint.h>

// Eight bytes each that a design takes.
#define FP_DESIGN_WORDS 208

// Most boards of an installation.
#define FP_BOARDS 8

// Most circuits of an installation.
#define FP_CIRCUITS 32

// Eight bytes each that an installation takes.
#define FP_INSTALLATION_WORDS 3328

// No section.
#define FP_NO_SECTION 255

// Ze.
#define FP_LACKING_ZE 1

// RA.
#define FP_LACKING_RA 2

// The fault level at the origin.
#define FP_LACKING_FAULT_LEVEL 4

// The load of the circuit.
#define FP_LACKING_LOAD 8

// The rated short-circuit capacity of the device.
#define FP_LACKING_BREAKING 16

// The maker's let-through energy of the device.
#define FP_LACKING_LET_THROUGH 32

// The device's curve has no point there.
#define FP_LACKING_CURVE 64

// A protective conductor.
#define FP_LACKING_PROTECTIVE 128

// The area of the entered armour or enclosure.
#define FP_LACKING_PROTECTIVE_AREA 256

// The capacity of the cable as installed: the tables have no such case.
#define FP_LACKING_CAPACITY 512

// The incoming device.
#define FP_LACKING_INCOMING 1024

// The supply neutral's size.
#define FP_LACKING_NEUTRAL 2048

// The size of the line conductors at the origin.
#define FP_LACKING_TAILS 4096

// The earthing conductor.
#define FP_LACKING_EARTHING_CONDUCTOR 8192

// The bonding conductor.
#define FP_LACKING_BONDING 16384

// An RCD.
#define FP_LACKING_RCD 32768

// A limit for this voltage or system.
#define FP_LACKING_LIMIT 65536

// Something further up that can't be said either.
#define FP_LACKING_UPSTREAM 131072

// A circuit on this board whose load is not known.
#define FP_LACKING_LOADS 262144

// What a board is made of up to its RCDs.
#define FP_LACKING_ENCLOSURE 524288

// Ze is the typical or declared one, not measured here.
#define FP_ASSUMED_ZE_NOT_MEASURED 1

// The fault level is a typical or declared one.
#define FP_ASSUMED_FAULT_LEVEL_NOT_MEASURED 2

// The resistance of the source's electrode is the profile's typical one.
#define FP_ASSUMED_SOURCE_ELECTRODE 4

// The angle of the supply's impedance is not known; the worse end was taken.
#define FP_ASSUMED_SUPPLY_ANGLE 8

// RA was not given; the whole measured loop stands for it.
#define FP_ASSUMED_RA_FROM_LOOP 16

// A three-phase load was taken as balanced.
#define FP_ASSUMED_BALANCED 32

// Two times the line-neutral current stands for the three-phase one (common practice).
#define FP_ASSUMED_DOUBLED 64

// An RCD further up is counted.
#define FP_ASSUMED_RCD_UPSTREAM 128

// The assembly's conditional rating is counted, with the device upstream that it names.
#define FP_ASSUMED_CONDITIONAL_RATING 256

// Diversity allowances of the profile (common practice).
#define FP_ASSUMED_DIVERSITY 512

// All up to the terminals of the board's RCDs is of class II or equivalent insulation, as stated.
#define FP_ASSUMED_INSULATED_FRONT 1024

// The reading.
#define FP_READING_LACKING_READING 1

// The largest Zs: the device's curve or the time allowed.
#define FP_READING_LACKING_LIMIT 2

// The loop of the supply, Ze.
#define FP_READING_LACKING_ZE 4

// A protective conductor in the design.
#define FP_READING_LACKING_PROTECTIVE 8

// Resistance of the armour: not in the table, not entered.
#define FP_READING_LACKING_ARMOUR 16

// The rated short-circuit capacity of the device.
#define FP_READING_LACKING_BREAKING 32

// An RCD in the design.
#define FP_READING_LACKING_RCD 64

// The end-to-end readings of a ring.
#define FP_READING_LACKING_ENDS 128

// The cross-connected readings at the sockets.
#define FP_READING_LACKING_SOCKETS 256

// Each circuit alone.
#define FP_READING_LACKING_EACH_CIRCUIT 512

// The reading again with gear disconnected, or at 250 V.
#define FP_READING_LACKING_WITHOUT_GEAR 1024

// The phase sequence at the origin.
#define FP_READING_LACKING_ORIGIN_SEQUENCE 2048

// The design current.
#define FP_READING_LACKING_DESIGN_CURRENT 4096

// A time for this wave shape or multiple in the standards.
#define FP_READING_LACKING_STANDARD 8192

// The temperature of the conductors while they were tested.
#define FP_READING_LACKING_AMBIENT 16384

// What the instrument may err by.
#define FP_READING_LACKING_ACCURACY 32768

// Another metal path beside the protective conductor.
#define FP_SUSPECT_PARALLEL_PATH 1

// A loose or corroded joint.
#define FP_SUSPECT_LOOSE_JOINT 2

// The cable is longer than in the design.
#define FP_SUSPECT_LONGER 4

// The cable is shorter than in the design.
#define FP_SUSPECT_SHORTER 8

// A smaller conductor than in the design.
#define FP_SUSPECT_SMALLER_SIZE 16

// A larger conductor than in the design.
#define FP_SUSPECT_LARGER_SIZE 32

// The line conductor is the one.
#define FP_SUSPECT_LINE 64

// The protective conductor is the one.
#define FP_SUSPECT_PROTECTIVE 128

// The supply's part of the loop has changed, or was taken wrongly.
#define FP_SUSPECT_SUPPLY 256

// Leads that were not nulled, or a poor contact of the probes.
#define FP_SUSPECT_LEADS 512

// What a function has to say of itself.
enum fp_status
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Done, and what was asked for is where the pointers say.
  FP_STATUS_OK = 0,
  // A pointer that may not be null is.
  FP_STATUS_NULL = 1,
  // A pointer is not aligned as its type has to be.
  FP_STATUS_MISALIGNED = 2,
  // The memory was not made what it should be by the function that does so.
  FP_STATUS_NOT_MADE = 3,
  // An input was refused: which and why is in the fp_error.
  FP_STATUS_REFUSED = 4,
  // There is no room for another one.
  FP_STATUS_FULL = 5,
  // There is no such board or circuit.
  FP_STATUS_NO_SUCH_THING = 6,
  // Nobody knows: the device's curve, a table or a standard has nothing there. Not a pass.
  FP_STATUS_NOT_KNOWN = 7,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_status fp_status;
#else
typedef uint32_t fp_status;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// The field an error speaks of.
enum fp_field
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // None, or one that this interface does not name yet.
  FP_FIELD_OTHER = 0,
  // Nominal line-to-earth voltage U0.
  FP_FIELD_U0 = 1,
  // Kind of current.
  FP_FIELD_CURRENT = 2,
  // External earth fault loop impedance Ze.
  FP_FIELD_ZE = 3,
  // Resistance of the electrode and its conductor, RA.
  FP_FIELD_RA = 4,
  // Prospective fault current at the origin.
  FP_FIELD_FAULT_LEVEL = 5,
  // Ratio of reactance to resistance of the supply.
  FP_FIELD_X_OVER_R = 6,
  // Voltage factor cmin or cmax.
  FP_FIELD_VOLTAGE_FACTOR = 7,
  // Length of a section.
  FP_FIELD_LENGTH = 8,
  // Cross-sectional area of a line conductor.
  FP_FIELD_CSA = 9,
  // Cross-sectional area of the neutral.
  FP_FIELD_NEUTRAL_CSA = 10,
  // Cross-sectional area of a protective conductor.
  FP_FIELD_PROTECTIVE_CSA = 11,
  // Number of cores.
  FP_FIELD_CORES = 12,
  // Conductor material.
  FP_FIELD_MATERIAL = 13,
  // Insulation.
  FP_FIELD_INSULATION = 14,
  // Construction of the cable.
  FP_FIELD_CONSTRUCTION = 15,
  // Method of installation.
  FP_FIELD_METHOD = 16,
  // Operating temperature.
  FP_FIELD_OPERATING_TEMPERATURE = 17,
  // Ambient or ground temperature.
  FP_FIELD_AMBIENT = 18,
  // Number of grouped circuits.
  FP_FIELD_GROUPED = 19,
  // Arrangement of a group.
  FP_FIELD_ARRANGEMENT = 20,
  // Thermal resistivity of soil.
  FP_FIELD_SOIL_RESISTIVITY = 21,
  // Depth of laying.
  FP_FIELD_DEPTH = 22,
  // Length in thermal insulation.
  FP_FIELD_INSULATION_RUN = 23,
  // Resistance per length of armour or enclosure.
  FP_FIELD_PER_LENGTH_RESISTANCE = 24,
  // Rated current In.
  FP_FIELD_RATING = 25,
  // Rated short-circuit capacity.
  FP_FIELD_BREAKING_CAPACITY = 26,
  // Let-through energy.
  FP_FIELD_LET_THROUGH = 27,
  // Rated residual operating current IΔn.
  FP_FIELD_RESIDUAL_CURRENT = 28,
  // Design current Ib.
  FP_FIELD_DESIGN_CURRENT = 29,
  // Power of a load.
  FP_FIELD_POWER = 30,
  // Power factor.
  FP_FIELD_POWER_FACTOR = 31,
  // Number of points a load is spread over.
  FP_FIELD_POINTS = 32,
  // Diversity allowance.
  FP_FIELD_DIVERSITY = 33,
  // A limit of the profile.
  FP_FIELD_LIMIT = 34,
  // Time.
  FP_FIELD_TIME = 35,
  // The board a circuit starts from.
  FP_FIELD_BOARD = 36,
  // The circuit a board is fed by.
  FP_FIELD_FED_BY = 37,
  // The list of boards.
  FP_FIELD_BOARDS = 38,
  // The list of circuits.
  FP_FIELD_CIRCUITS = 39,
  // The list of sections.
  FP_FIELD_SECTIONS = 40,
  // Phase of a circuit.
  FP_FIELD_PHASE = 41,
  // Shape of a circuit.
  FP_FIELD_SHAPE = 42,
  // Earthing conductor.
  FP_FIELD_EARTHING_CONDUCTOR = 43,
  // Main protective bonding conductor.
  FP_FIELD_BONDING_CONDUCTOR = 44,
  // A reading of an instrument.
  FP_FIELD_READING = 45,
  // Operating uncertainty of an instrument.
  FP_FIELD_UNCERTAINTY = 46,
  // Step of a display.
  FP_FIELD_RESOLUTION = 47,
  // Resistance of test leads.
  FP_FIELD_LEADS = 48,
  // Marked range of an instrument.
  FP_FIELD_RANGE = 49,
  // Diameter of a rod or wire, width of a tape.
  FP_FIELD_DIAMETER = 50,
  // Side of a plate or of a foundation.
  FP_FIELD_SIDE = 51,
  // Distance between rods.
  FP_FIELD_SPACING = 52,
  // Number of rods.
  FP_FIELD_RODS = 53,
  // Factor for the seasons.
  FP_FIELD_SEASON = 54,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_field fp_field;
#else
typedef uint8_t fp_field;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Why a value was refused.
enum fp_reason
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // None, or one that this interface does not name yet.
  FP_REASON_OTHER = 0,
  // It is not a number.
  FP_REASON_NOT_A_NUMBER = 1,
  // It is infinite.
  FP_REASON_INFINITE = 2,
  // It is below zero, where only zero or more has a meaning.
  FP_REASON_NEGATIVE = 3,
  // It is zero, where only more than zero has a meaning.
  FP_REASON_ZERO = 4,
  // It is beyond anything this library calculates with.
  FP_REASON_TOO_LARGE = 5,
  // It is above zero, but too small to be meant.
  FP_REASON_TOO_SMALL = 6,
  // No such size or rating is made.
  FP_REASON_NOT_MADE = 7,
  // The table for this combination has no such entry, and it is not extrapolated.
  FP_REASON_OUT_OF_TABLE = 8,
  // It is needed and was not given.
  FP_REASON_MISSING = 9,
  // Direct current is not covered.
  FP_REASON_DIRECT_CURRENT = 10,
  // It refers to something that is not there.
  FP_REASON_DANGLING = 11,
  // It refers, over others, to itself.
  FP_REASON_CYCLE = 12,
  // There are more of them than there is room for.
  FP_REASON_TOO_MANY = 13,
  // It can't be together with another field of the same thing.
  FP_REASON_CONTRADICTION = 14,
  // A code that is none of the choices; 0 is never one.
  FP_REASON_NO_SUCH_CHOICE = 15,
  // A flag that is neither 0 nor 1.
  FP_REASON_NOT_A_FLAG = 16,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_reason fp_reason;
#else
typedef uint8_t fp_reason;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// What is tested.
enum fp_test
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // None, or one that this interface does not name yet.
  FP_TEST_OTHER = 0,
  // Continuity of line and protective conductor together, R1 + R2.
  FP_TEST_R1R2 = 1,
  // Continuity of the protective conductor, R2.
  FP_TEST_R2 = 2,
  // Continuity of the armour.
  FP_TEST_ARMOUR = 3,
  // Continuity of a bonding conductor.
  FP_TEST_BONDING = 4,
  // Ring final circuit: end to end and cross-connected.
  FP_TEST_RING = 5,
  // Insulation resistance.
  FP_TEST_INSULATION = 6,
  // Polarity.
  FP_TEST_POLARITY = 7,
  // External earth fault loop impedance.
  FP_TEST_ZE = 8,
  // Earth fault loop impedance of a circuit.
  FP_TEST_ZS = 9,
  // Prospective fault current.
  FP_TEST_FAULT_CURRENT = 10,
  // Operating time of an RCD.
  FP_TEST_RCD_TIME = 11,
  // Operating current of an RCD.
  FP_TEST_RCD_RAMP = 12,
  // Resistance of an electrode.
  FP_TEST_ELECTRODE = 13,
  // Phase sequence.
  FP_TEST_PHASE_SEQUENCE = 14,
  // Volt drop.
  FP_TEST_VOLT_DROP = 15,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_test fp_test;
#else
typedef uint8_t fp_test;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// How a check or a reading came out. Only the first is a pass.
enum fp_outcome
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // The requirement is met.
  FP_OUTCOME_PASS = 1,
  // Too near the limit for the instrument to tell.
  FP_OUTCOME_DOUBTFUL = 2,
  // Something is missing or outside what is known.
  FP_OUTCOME_CANNOT_SAY = 3,
  // The requirement is not met.
  FP_OUTCOME_FAIL = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_outcome fp_outcome;
#else
typedef uint8_t fp_outcome;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// What a reading means, beyond its outcome.
enum fp_meaning
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // None, or one that this interface does not name yet.
  FP_MEANING_OTHER = 0,
  // Clear of its limit.
  FP_MEANING_CLEAR = 1,
  // The limit is inside the band: repeat, on a better range, or with a better instrument.
  FP_MEANING_INSIDE_BAND = 2,
  // Beyond its limit.
  FP_MEANING_BEYOND = 3,
  // Not enough is known to say.
  FP_MEANING_NOT_KNOWN = 4,
  // Below what leads and zero allow: null the leads and repeat.
  FP_MEANING_NOT_BELIEVABLE = 5,
  // No continuity.
  FP_MEANING_OPEN = 6,
  // The conductors touch, or something is left connected.
  FP_MEANING_SHORT = 7,
  // Not over its limit, but more than the design has.
  FP_MEANING_ABOVE_DESIGN = 8,
  // Less than the design has: the reading may not show the conductor alone.
  FP_MEANING_BELOW_DESIGN = 9,
  // Surge protection or electronic gear is connected, and may be what was measured.
  FP_MEANING_GEAR_CONNECTED = 10,
  // Several circuits together are below the limit: that says nothing of each.
  FP_MEANING_TEST_EACH_ALONE = 11,
  // The test voltage was too low for this circuit.
  FP_MEANING_TEST_VOLTAGE_TOO_LOW = 12,
  // The RCD tripped at half of IΔn.
  FP_MEANING_TRIPPED_AT_HALF = 13,
  // The RCD did not trip.
  FP_MEANING_NO_TRIP = 14,
  // It tripped sooner than a selective RCD may.
  FP_MEANING_TOO_SOON = 15,
  // It tripped later than it may.
  FP_MEANING_TOO_LATE = 16,
  // The test did not last long enough to say.
  FP_MEANING_TEST_TOO_SHORT = 17,
  // The RCD operates below half of IΔn: too sensitive, or current flows to earth already.
  FP_MEANING_TOO_SENSITIVE = 18,
  // The stakes stand too near: move them and repeat.
  FP_MEANING_MOVE_STAKES = 19,
  // A conductor is where it does not belong.
  FP_MEANING_CROSSED = 20,
  // The order of the lines is turned round.
  FP_MEANING_REVERSED = 21,
  // The ring has the pattern that is said with it.
  FP_MEANING_RING_PATTERN = 22,
  // The instrument's step is too coarse for so small a value.
  FP_MEANING_TOO_COARSE = 23,
  // Beyond the limit of the device, on which the design rests: only the RCD would disconnect in time.
  FP_MEANING_ONLY_RCD = 24,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_meaning fp_meaning;
#else
typedef uint8_t fp_meaning;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// The rule a reading is held against.
enum fp_reading_rule
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // None, or one that this interface does not name yet.
  FP_READING_RULE_OTHER = 0,
  // R1 + R2 at which, hot, the circuit reaches its largest Zs.
  FP_READING_RULE_MAX_R1R2 = 1,
  // R2 at which it does so with the line conductor of the design.
  FP_READING_RULE_MAX_R2 = 2,
  // The value of the design and the band around it.
  FP_READING_RULE_DESIGN_BAND = 3,
  // Resistance of a bonding conductor by length and size, and 0.05 Ω.
  FP_READING_RULE_BONDING_BY_LENGTH = 4,
  // R ≤ 50 V/Ia of a supplementary bonding conductor.
  FP_READING_RULE_BONDING_BY_TOUCH = 5,
  // The pattern of a ring's readings.
  FP_READING_RULE_RING_PATTERN = 6,
  // Smallest insulation resistance by the voltage of the circuit.
  FP_READING_RULE_INSULATION_TABLE = 7,
  // The same at 250 V, where gear can't be disconnected.
  FP_READING_RULE_INSULATION_REDUCED = 8,
  // Every conductor where it belongs.
  FP_READING_RULE_POLARITY = 9,
  // L1, L2, L3 in the order of the origin.
  FP_READING_RULE_PHASE_SEQUENCE = 10,
  // Ze with which every circuit still disconnects in time.
  FP_READING_RULE_MAX_ZE = 11,
  // Largest Zs by the device, at the temperature of the reading.
  FP_READING_RULE_MAX_ZS = 12,
  // Largest Zs by an RCD, at the temperature of the reading.
  FP_READING_RULE_MAX_ZS_RCD = 13,
  // Rated short-circuit capacity over cmax.
  FP_READING_RULE_BREAKING = 14,
  // Longest operating time of an RCD.
  FP_READING_RULE_RCD_LATEST = 15,
  // Longest and shortest operating time of a selective RCD.
  FP_READING_RULE_RCD_SELECTIVE = 16,
  // No operation at half of IΔn.
  FP_READING_RULE_RCD_HALF = 17,
  // Operating current by wave shape.
  FP_READING_RULE_RCD_RAMP = 18,
  // RA ≤ 50 V/IΔn.
  FP_READING_RULE_TOUCH_VOLTAGE = 19,
  // Three readings agree: largest deviation from the mean × 1.2 below 5 %.
  FP_READING_RULE_FALL_OF_POTENTIAL = 20,
  // Volt drop at design current against its limit.
  FP_READING_RULE_DROP_LIMIT = 21,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_reading_rule fp_reading_rule;
#else
typedef uint8_t fp_reading_rule;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// The unit of a value.
enum fp_unit
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // None, or one that this interface does not name yet.
  FP_UNIT_OTHER = 0,
  // V
  FP_UNIT_VOLT = 1,
  // A
  FP_UNIT_AMPERE = 2,
  // Ω
  FP_UNIT_OHM = 3,
  // MΩ
  FP_UNIT_MEGA_OHM = 4,
  // Ω/km
  FP_UNIT_OHM_PER_KM = 5,
  // m
  FP_UNIT_METRE = 6,
  // mm²
  FP_UNIT_SQUARE_MM = 7,
  // s
  FP_UNIT_SECOND = 8,
  // W
  FP_UNIT_WATT = 9,
  // °C
  FP_UNIT_CELSIUS = 10,
  // A²s
  FP_UNIT_AMP_SQUARED_SECOND = 11,
  // A·√s/mm²
  FP_UNIT_K_FACTOR = 12,
  // A share; shown as per cent.
  FP_UNIT_SHARE = 13,
  // A factor without a unit.
  FP_UNIT_FACTOR = 14,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_unit fp_unit;
#else
typedef uint8_t fp_unit;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Which side of a limit is good.
enum fp_sense
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // The value may be the limit at most.
  FP_SENSE_AT_MOST = 1,
  // The value must be the limit at least.
  FP_SENSE_AT_LEAST = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_sense fp_sense;
#else
typedef uint8_t fp_sense;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Where a finding belongs.
enum fp_place
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // The origin.
  FP_PLACE_SUPPLY = 1,
  // A board.
  FP_PLACE_BOARD = 2,
  // A circuit.
  FP_PLACE_CIRCUIT = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_place fp_place;
#else
typedef uint8_t fp_place;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// What is checked.
enum fp_check
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // None, or one that this interface does not name yet.
  FP_CHECK_OTHER = 0,
  // Design current against rated current, Ib ≤ In.
  FP_CHECK_DESIGN_CURRENT = 1,
  // Rated current against capacity of the cable as installed, In ≤ Iz.
  FP_CHECK_CAPACITY = 2,
  // Conventional operating current, I2 ≤ 1.45·Iz.
  FP_CHECK_OVERLOAD = 3,
  // Volt drop from the origin to the furthest point.
  FP_CHECK_VOLT_DROP = 4,
  // Disconnection in time on an earth fault of negligible impedance.
  FP_CHECK_DISCONNECTION = 5,
  // Touch voltage at an electrode, RA·IΔn ≤ 50 V.
  FP_CHECK_ELECTRODE = 6,
  // The protective conductor survives the earth fault.
  FP_CHECK_PROTECTIVE_THERMAL = 7,
  // The line conductor survives the fault.
  FP_CHECK_LINE_THERMAL = 8,
  // The device can break the largest prospective fault current.
  FP_CHECK_BREAKING = 9,
  // An RCD for additional protection where one is asked for.
  FP_CHECK_RCD = 10,
  // Demand with diversity against the device that feeds a board, or the incoming device.
  FP_CHECK_DEMAND = 11,
  // Main protective bonding conductor.
  FP_CHECK_BONDING = 12,
  // The protective conductor of the feed, where it also carries what bonding carries.
  FP_CHECK_FEED_BONDING = 13,
  // Earthing conductor.
  FP_CHECK_EARTHING_CONDUCTOR = 14,
  // An earth fault at a board on an electrode, in front of its RCDs.
  FP_CHECK_BOARD_FAULT = 15,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_check fp_check;
#else
typedef uint8_t fp_check;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Every formula, table and rule, so that a finding or a step can name its own.
// Its formula in symbols and its source are in the module `words`.
enum fp_rule
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // None, or one that this interface does not name yet.
  FP_RULE_OTHER = 0,
  // Ib = P/(U0·cosφ)
  FP_RULE_IB_SINGLE = 1,
  // Ib = P/(3·U0·cosφ)
  FP_RULE_IB_THREE = 2,
  // Ib as stated.
  FP_RULE_IB_STATED = 3,
  // Ib from the demand of what hangs on it.
  FP_RULE_IB_DEMAND = 4,
  // Ib ≤ In.
  FP_RULE_IB_IN = 5,
  // It from the tables.
  FP_RULE_IT = 6,
  // Iz = It·Ca·Cg·Ci·Cs·Cd.
  FP_RULE_IZ = 7,
  // In ≤ Iz.
  FP_RULE_IN_IZ = 8,
  // A 30 or 32 A ring asks for 20 A a conductor.
  FP_RULE_RING_IZ = 9,
  // A spur's fuse, or 20 A, against Iz.
  FP_RULE_SPUR_IZ = 10,
  // I2 = factor·In.
  FP_RULE_I2 = 11,
  // I2 ≤ 1.45·Iz.
  FP_RULE_I2_IZ = 12,
  // R = r·L/1000·Fθ·F~, line conductor.
  FP_RULE_R_LINE = 13,
  // The same, neutral.
  FP_RULE_R_NEUTRAL = 14,
  // The same, protective conductor.
  FP_RULE_R_PROTECTIVE = 15,
  // The same, steel armour, conduit or trunking.
  FP_RULE_R_STEEL = 16,
  // X = x·L/1000.
  FP_RULE_REACTANCE = 17,
  // Armour and core in parallel.
  FP_RULE_R_PARALLEL = 18,
  // R1 + R2 of a radial circuit.
  FP_RULE_R1R2 = 19,
  // (r1 + r2)/4 of a ring.
  FP_RULE_RING_R1R2 = 20,
  // Zs at the board the circuit starts from.
  FP_RULE_ZS_BOARD = 21,
  // Zs by sum of magnitudes: the supply's angle is not known.
  FP_RULE_ZS_SUM = 22,
  // Zs by R and X.
  FP_RULE_ZS_VECTOR = 23,
  // If = cmin·U0/Zs.
  FP_RULE_IF_MIN = 24,
  // Time allowed by system, voltage and kind of circuit.
  FP_RULE_TIME_ALLOWED = 25,
  // Ia of the device for that time.
  FP_RULE_IA = 26,
  // Largest Zs = cmin·U0/Ia.
  FP_RULE_MAX_ZS = 27,
  // IΔ the RCD needs for that time.
  FP_RULE_IA_RCD = 28,
  // Largest Zs = cmin·U0/IΔ.
  FP_RULE_MAX_ZS_RCD = 29,
  // RA·IΔn ≤ 50 V.
  FP_RULE_TOUCH_VOLTAGE = 30,
  // Drop of a section, single phase.
  FP_RULE_DROP_SINGLE = 31,
  // Drop of a section, three phase.
  FP_RULE_DROP_THREE = 32,
  // Drop of a ring.
  FP_RULE_DROP_RING = 33,
  // Conductor temperature at the load.
  FP_RULE_LOAD_TEMPERATURE = 34,
  // Drop at the board the circuit starts from.
  FP_RULE_DROP_BOARD = 35,
  // Drop from the origin to the furthest point.
  FP_RULE_DROP_TOTAL = 36,
  // Drop against its limit.
  FP_RULE_DROP_LIMIT = 37,
  // Smallest impedance of the supply, from the fault level.
  FP_RULE_Z_SUPPLY_MIN = 38,
  // Largest three-phase current.
  FP_RULE_IK_THREE = 39,
  // Largest line-neutral current.
  FP_RULE_IK_NEUTRAL = 40,
  // Largest line-earth current.
  FP_RULE_IK_EARTH = 41,
  // Largest of them against the rated short-circuit capacity.
  FP_RULE_BREAKING_CAPACITY = 42,
  // k by the closed form.
  FP_RULE_K = 43,
  // Initial temperature, by the load the device admits.
  FP_RULE_INITIAL_TEMPERATURE = 44,
  // I²t at the smallest current.
  FP_RULE_ENERGY_FAR = 45,
  // I²t at the largest current.
  FP_RULE_ENERGY_NEAR = 46,
  // S ≥ √(I²t)/k.
  FP_RULE_ADIABATIC = 47,
  // The tabulated minimum by the line conductor's size.
  FP_RULE_TABULATED_MINIMUM = 48,
  // A device that protects against overload and can break the fault protects the line conductor too.
  FP_RULE_DEEMED = 49,
  // IΔn for additional protection.
  FP_RULE_ADDITIONAL_PROTECTION = 50,
  // Demand with diversity.
  FP_RULE_DEMAND_SUM = 51,
  // Demand as stated.
  FP_RULE_DEMAND_STATED = 52,
  // Demand against the device.
  FP_RULE_DEMAND_DEVICE = 53,
  // Bonding conductor by the supply neutral.
  FP_RULE_BONDING_BY_NEUTRAL = 54,
  // Bonding conductor by the earthing conductor.
  FP_RULE_BONDING_BY_EARTHING = 55,
  // The feed's protective conductor must conduct as the bonding conductor would.
  FP_RULE_FEED_AS_BONDING = 56,
  // Earthing conductor by the line conductor.
  FP_RULE_EARTHING_BY_LINE = 57,
  // Earthing conductor in the ground.
  FP_RULE_EARTHING_BURIED = 58,
  // Largest Zs at a board on an electrode, by the overcurrent device in front.
  FP_RULE_BOARD_MAX_ZS = 59,
  // Class II or equivalent insulation up to the RCDs of a board.
  FP_RULE_INSULATED_FRONT = 60,
  // In as chosen.
  FP_RULE_RATED = 61,
  // R1 + R2 at 20 °C.
  FP_RULE_R1R2_COLD = 62,
  // Drop as a share of U0.
  FP_RULE_DROP_SHARE = 63,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_rule fp_rule;
#else
typedef uint8_t fp_rule;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// The standard a device is made to, with the instantaneous type of a breaker.
enum fp_family
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Circuit-breaker to EN 60898, type B.
  FP_FAMILY_BREAKER_B = 1,
  // The same, type C.
  FP_FAMILY_BREAKER_C = 2,
  // The same, type D.
  FP_FAMILY_BREAKER_D = 3,
  // RCBO to EN 61009, type B; its RCD is given with the circuit.
  FP_FAMILY_RCBO_B = 4,
  // The same, type C.
  FP_FAMILY_RCBO_C = 5,
  // The same, type D.
  FP_FAMILY_RCBO_D = 6,
  // Fuse to BS 88-2, systems E and G.
  FP_FAMILY_BS88_TWO = 7,
  // Fuse to BS 88-3, system C.
  FP_FAMILY_BS88_THREE = 8,
  // Semi-enclosed fuse to BS 3036.
  FP_FAMILY_BS3036 = 9,
  // Cartridge fuse to BS 1361.
  FP_FAMILY_BS1361 = 10,
  // Cartridge fuse to BS 1362.
  FP_FAMILY_BS1362 = 11,
  // Any gG fuse to IEC 60269, by its gates.
  FP_FAMILY_GG = 12,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_family fp_family;
#else
typedef uint8_t fp_family;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// The wave shapes an RCD responds to.
enum fp_rcd_type
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Alternating current only.
  FP_RCD_TYPE_AC = 1,
  // Also pulsating direct current.
  FP_RCD_TYPE_A = 2,
  // Also mixed frequencies.
  FP_RCD_TYPE_F = 3,
  // Also smooth direct current.
  FP_RCD_TYPE_B = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_rcd_type fp_rcd_type;
#else
typedef uint8_t fp_rcd_type;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Intended delay of an RCD.
enum fp_rcd_delay
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // General type.
  FP_RCD_DELAY_NONE = 1,
  // Selective type S.
  FP_RCD_DELAY_SELECTIVE = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_rcd_delay fp_rcd_delay;
#else
typedef uint8_t fp_rcd_delay;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Number of phases.
enum fp_phases
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Line and neutral.
  FP_PHASES_SINGLE = 1,
  // Three lines and neutral.
  FP_PHASES_THREE = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_phases fp_phases;
#else
typedef uint8_t fp_phases;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// System of earthing.
enum fp_earthing
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Separate protective conductor from the source.
  FP_EARTHING_TN_S = 1,
  // Combined neutral and protective conductor in the supply.
  FP_EARTHING_TN_CS = 2,
  // Own electrode.
  FP_EARTHING_TT = 3,
  // It can't be told: judged as TN-C-S and as TT, and the worse counts.
  FP_EARTHING_NOT_KNOWN = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_earthing fp_earthing;
#else
typedef uint8_t fp_earthing;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Where a figure of the supply comes from.
enum fp_origin
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Measured at this origin.
  FP_ORIGIN_MEASURED = 1,
  // Declared by the distributor.
  FP_ORIGIN_DECLARED = 2,
  // A typical figure.
  FP_ORIGIN_TYPICAL = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_origin fp_origin;
#else
typedef uint8_t fp_origin;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// How the fault level at the origin is known.
enum fp_fault_level
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Stated, in the field beside it.
  FP_FAULT_LEVEL_STATED = 1,
  // To be taken from Ze (TN-C-S, measured).
  FP_FAULT_LEVEL_FROM_ZE = 2,
  // Not known.
  FP_FAULT_LEVEL_NOT_KNOWN = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_fault_level fp_fault_level;
#else
typedef uint8_t fp_fault_level;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Which volt drop decides.
enum fp_drop_basis
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Conductors at their full temperature.
  FP_DROP_BASIS_FULL = 1,
  // Conductors at the temperature of the load.
  FP_DROP_BASIS_LOAD = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_drop_basis fp_drop_basis;
#else
typedef uint8_t fp_drop_basis;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// What feeds a board.
enum fp_feed
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // The origin of the supply.
  FP_FEED_ORIGIN = 1,
  // The circuit named beside it.
  FP_FEED_CIRCUIT = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_feed fp_feed;
#else
typedef uint8_t fp_feed;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// What a board is made of, up to its RCDs.
enum fp_enclosure
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // There is metal that a fault in front of its RCDs can reach.
  FP_ENCLOSURE_METAL = 1,
  // Class II or equivalent insulation up to the terminals of its RCDs.
  FP_ENCLOSURE_INSULATED = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_enclosure fp_enclosure;
#else
typedef uint8_t fp_enclosure;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Which line a circuit is on.
enum fp_phase
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // L1
  FP_PHASE_L1 = 1,
  // L2
  FP_PHASE_L2 = 2,
  // L3
  FP_PHASE_L3 = 3,
  // All three.
  FP_PHASE_THREE = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_phase fp_phase;
#else
typedef uint8_t fp_phase;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Shape of a circuit.
enum fp_shape
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // From the board outwards.
  FP_SHAPE_RADIAL = 1,
  // Out and back; its sections give the whole loop.
  FP_SHAPE_RING = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_shape fp_shape;
#else
typedef uint8_t fp_shape;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// What a circuit is for.
enum fp_use
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Socket-outlets.
  FP_USE_SOCKETS = 1,
  // Lighting.
  FP_USE_LIGHTING = 2,
  // Fixed equipment.
  FP_USE_FIXED = 3,
  // Feeds a board.
  FP_USE_DISTRIBUTION = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_use fp_use;
#else
typedef uint8_t fp_use;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// How the load of a circuit is given.
enum fp_demand
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // As a current, in A.
  FP_DEMAND_CURRENT = 1,
  // As a power, in W.
  FP_DEMAND_POWER = 2,
  // By what hangs on it; of a final circuit: not known.
  FP_DEMAND_DERIVED = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_demand fp_demand;
#else
typedef uint8_t fp_demand;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Kind of load.
enum fp_load_class
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Lighting.
  FP_LOAD_CLASS_LIGHTING = 1,
  // Space heating.
  FP_LOAD_CLASS_HEATING = 2,
  // Cooking appliances.
  FP_LOAD_CLASS_COOKER = 3,
  // Motors.
  FP_LOAD_CLASS_MOTOR = 4,
  // Water heated as it flows.
  FP_LOAD_CLASS_WATER_INSTANT = 5,
  // Stored water under a thermostat.
  FP_LOAD_CLASS_WATER_STORAGE = 6,
  // Floor warming.
  FP_LOAD_CLASS_FLOOR_WARMING = 7,
  // Socket-outlets.
  FP_LOAD_CLASS_SOCKETS = 8,
  // Stationary equipment.
  FP_LOAD_CLASS_STATIONARY = 9,
  // Anything else, taken in full.
  FP_LOAD_CLASS_OTHER = 10,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_load_class fp_load_class;
#else
typedef uint8_t fp_load_class;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Part of a circuit a section belongs to.
enum fp_part
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // The run, or the loop of a ring.
  FP_PART_RUN = 1,
  // A spur from the worst point of the run.
  FP_PART_SPUR = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_part fp_part;
#else
typedef uint8_t fp_part;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// What a conductor is made of.
enum fp_material
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Copper.
  FP_MATERIAL_COPPER = 1,
  // Aluminium.
  FP_MATERIAL_ALUMINIUM = 2,
  // Steel.
  FP_MATERIAL_STEEL = 3,
  // Lead.
  FP_MATERIAL_LEAD = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_material fp_material;
#else
typedef uint8_t fp_material;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Insulation.
enum fp_insulation
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Thermoplastic, 70 °C.
  FP_INSULATION_THERMOPLASTIC_SEVENTY = 1,
  // Thermoplastic, 90 °C.
  FP_INSULATION_THERMOPLASTIC_NINETY = 2,
  // Thermosetting, 90 °C.
  FP_INSULATION_THERMOSETTING_NINETY = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_insulation fp_insulation;
#else
typedef uint8_t fp_insulation;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// How a cable is built.
enum fp_construction
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Single-core cables.
  FP_CONSTRUCTION_SINGLE_CORES = 1,
  // Multicore cable, unarmoured.
  FP_CONSTRUCTION_MULTICORE = 2,
  // Multicore cable with steel wire armour.
  FP_CONSTRUCTION_ARMOURED = 3,
  // Flat twin cable with a protective conductor.
  FP_CONSTRUCTION_FLAT_TWIN = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_construction fp_construction;
#else
typedef uint8_t fp_construction;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// What the protective conductor of a section is.
enum fp_protective
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // A core of the same cable.
  FP_PROTECTIVE_CORE = 1,
  // A conductor of its own.
  FP_PROTECTIVE_SEPARATE = 2,
  // The armour: as given, else by the standard's table.
  FP_PROTECTIVE_ARMOUR = 3,
  // Armour and a core in parallel.
  FP_PROTECTIVE_ARMOUR_AND_CORE = 4,
  // Steel conduit or trunking, as given.
  FP_PROTECTIVE_ENCLOSURE = 5,
  // None.
  FP_PROTECTIVE_NONE = 6,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_protective fp_protective;
#else
typedef uint8_t fp_protective;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Method of installation.
enum fp_method
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // A: in conduit in a thermally insulated wall.
  FP_METHOD_INSULATED_WALL = 1,
  // B: in conduit or trunking on a wall.
  FP_METHOD_CONDUIT = 2,
  // C: clipped direct.
  FP_METHOD_CLIPPED = 3,
  // E, F: in free air, on perforated tray, ladder, cleats.
  FP_METHOD_AIR = 4,
  // D1: in a duct in the ground.
  FP_METHOD_DUCT = 5,
  // D2: direct in the ground.
  FP_METHOD_GROUND = 6,
  // 100: above a ceiling, at most 100 mm of insulation.
  FP_METHOD_CEILING_THIN = 7,
  // 101: the same, more than 100 mm.
  FP_METHOD_CEILING_THICK = 8,
  // 102: in a stud wall, touching the inner surface.
  FP_METHOD_STUD_TOUCHING = 9,
  // 103: the same, not touching.
  FP_METHOD_STUD_APART = 10,
  // Surrounded by thermal insulation for 0.5 m or more.
  FP_METHOD_SURROUNDED = 11,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_method fp_method;
#else
typedef uint8_t fp_method;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// How grouped circuits lie to each other.
enum fp_arrangement
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Bunched.
  FP_ARRANGEMENT_BUNCHED = 1,
  // A single layer on a wall or floor.
  FP_ARRANGEMENT_SINGLE_LAYER_WALL = 2,
  // A single layer on perforated tray.
  FP_ARRANGEMENT_SINGLE_LAYER_TRAY = 3,
  // A single layer on ladder or cleats.
  FP_ARRANGEMENT_LADDER = 4,
  // Buried, touching.
  FP_ARRANGEMENT_TOUCHING = 5,
  // Buried, one cable diameter apart.
  FP_ARRANGEMENT_GAP_DIAMETER = 6,
  // Buried, as far apart as the field beside it says.
  FP_ARRANGEMENT_GAP = 7,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_arrangement fp_arrangement;
#else
typedef uint8_t fp_arrangement;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Wave of a test current.
enum fp_wave
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Sine.
  FP_WAVE_SINE = 1,
  // Half-wave.
  FP_WAVE_HALF = 2,
  // Smooth direct current.
  FP_WAVE_SMOOTH = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_wave fp_wave;
#else
typedef uint8_t fp_wave;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Multiple of IΔn.
enum fp_multiple
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // ½
  FP_MULTIPLE_HALF = 1,
  // 1
  FP_MULTIPLE_ONE = 2,
  // 2
  FP_MULTIPLE_TWO = 3,
  // 5
  FP_MULTIPLE_FIVE = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_multiple fp_multiple;
#else
typedef uint8_t fp_multiple;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// What a circuit is, for its insulation test.
enum fp_circuit_class
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : uint8_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // SELV or PELV.
  FP_CIRCUIT_CLASS_EXTRA_LOW = 1,
  // Anything else, by its nominal voltage.
  FP_CIRCUIT_CLASS_NOMINAL = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum fp_circuit_class fp_circuit_class;
#else
typedef uint8_t fp_circuit_class;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Memory for a circuit's design; fp_design_of_circuit or fp_design_in_installation makes one of it.
typedef struct {
  uint64_t words[FP_DESIGN_WORDS];
} fp_design;

// Diversity allowance of one class of load.
typedef struct {
  // Up to here `first` holds, in A.
  float first_amps;
  // Share of the first amperes.
  float first;
  // Share of the rest.
  float rest;
  // Added to each, in A.
  float add;
  // Share of the largest.
  float largest;
  // Share of the second largest.
  float second;
  // Share of the others.
  float others;
} fp_diversity;

// National choices; fp_profile_uk or fp_profile_iec fills it.
typedef struct {
  // Voltage factor for the smallest fault current.
  float cmin;
  // Voltage factor for the largest fault current.
  float cmax;
  // Limit of volt drop for lighting, as a share of U0.
  float drop_lighting;
  // Limit of volt drop for everything else, as a share of U0.
  float drop_other;
  // Typical resistance of the electrode at the source, in Ω.
  float source_electrode;
  // Conventional limit of touch voltage, in V.
  float touch_voltage;
  // IΔn asked for as additional protection, in A.
  float additional_protection;
  // Socket circuits up to this rating get additional protection, in A.
  float sockets_up_to;
  // Allowances, in the order of fp_load_class.
  fp_diversity diversity[10];
  // fp_drop_basis
  uint8_t drop_basis;
} fp_profile;

// A figure that may not be known.
typedef struct {
  // The figure; not looked at where it is not given.
  float value;
  // 1 where it is given, else 0.
  uint8_t given;
} fp_optional;

// An overcurrent protective device.
typedef struct {
  // Rated current In, in A: one that is made.
  float rating;
  // Rated short-circuit capacity as marked, in A.
  fp_optional breaking;
  // The maker's let-through energy, in A²s.
  fp_optional let_through;
  // fp_family
  uint8_t family;
  // 1 where it is marked with energy limiting class 3, else 0.
  uint8_t class_3;
} fp_device;

// A conductor on its own.
typedef struct {
  // Area, in mm².
  float csa;
  // fp_material
  uint8_t material;
} fp_conductor;

// An earthing conductor.
typedef struct {
  // The conductor.
  fp_conductor conductor;
  // 1 where it lies in the ground, else 0.
  uint8_t buried;
  // 1 where it is protected against mechanical damage, else 0.
  uint8_t mechanical;
  // 1 where it is protected against corrosion, else 0.
  uint8_t corrosion;
} fp_earthing_conductor;

// What there is at the origin.
typedef struct {
  // Nominal line-to-earth voltage, in V.
  float u0;
  // Ze, in Ω.
  fp_optional ze;
  // RA of the installation's own electrode, in Ω.
  fp_optional ra;
  // The stated fault level, in A; looked at for FP_FAULT_LEVEL_STATED only.
  float fault_level_amps;
  // X/R of the supply.
  fp_optional x_over_r;
  // Area of the supply's neutral, in mm².
  fp_optional neutral;
  // Area of the line conductors at the origin, in mm².
  fp_optional tails;
  // The incoming device, where has_device is 1.
  fp_device device;
  // The earthing conductor, where has_earthing_conductor is 1.
  fp_earthing_conductor earthing_conductor;
  // Main protective bonding, where has_bonding is 1.
  fp_conductor bonding;
  // fp_phases
  uint8_t phases;
  // fp_earthing
  uint8_t earthing;
  // fp_origin of Ze; looked at where Ze is given.
  uint8_t ze_origin;
  // fp_fault_level
  uint8_t fault_level;
  // fp_origin of the stated fault level.
  uint8_t fault_level_origin;
  // 1 or 0.
  uint8_t has_device;
  // 1 or 0.
  uint8_t has_earthing_conductor;
  // 1 or 0.
  uint8_t has_bonding;
  // 1 where there are extraneous-conductive-parts, else 0.
  uint8_t extraneous;
} fp_supply;

// How a length is laid.
typedef struct {
  // Temperature of the air or ground, in °C.
  float ambient;
  // Gap between buried circuits, in m, for FP_ARRANGEMENT_GAP.
  float gap;
  // Thermal resistivity of the soil, in K·m/W.
  fp_optional soil;
  // Depth, in m.
  fp_optional depth;
  // Length in thermal insulation, in m.
  fp_optional insulation_run;
  // fp_method
  uint8_t method;
  // Circuits in the group, this one included.
  uint8_t grouped;
  // fp_arrangement
  uint8_t arrangement;
} fp_laying;

// A length of one cable laid in one way.
typedef struct {
  // Length, in m.
  float length;
  // Area of the line conductor, in mm².
  float csa;
  // Area of the neutral, in mm², where it differs.
  fp_optional neutral;
  // A limit of temperature below the insulation's own, in °C.
  fp_optional operating_limit;
  // The protective conductor, for those that are one.
  fp_conductor protective_conductor;
  // Resistance of armour or enclosure at 20 °C, in Ω/km; not given: the standard's table (armour only).
  fp_optional steel_resistance;
  // Its area, in mm², if known.
  fp_optional steel_area;
  // How it is laid.
  fp_laying laying;
  // A fuse at the start of a spur, where has_spur_fuse is 1.
  fp_device spur_fuse;
  // fp_part
  uint8_t part;
  // fp_material of line and neutral.
  uint8_t material;
  // fp_insulation
  uint8_t insulation;
  // fp_construction
  uint8_t construction;
  // Cores of the cable.
  uint8_t cores;
  // fp_protective
  uint8_t protective;
  // 1 or 0.
  uint8_t has_spur_fuse;
} fp_section;

// A residual current device.
typedef struct {
  // IΔn, in A: one that is made.
  float sensitivity;
  // fp_rcd_type
  uint8_t kind;
  // fp_rcd_delay
  uint8_t delay;
} fp_rcd;

// A circuit.
typedef struct {
  // Its sections, from the board outwards.
  const fp_section *sections;
  // Its overcurrent device.
  fp_device device;
  // An RCD of its own, that of an RCBO too, where has_rcd is 1.
  fp_rcd rcd;
  // Its load, in A or W; not looked at for FP_DEMAND_DERIVED.
  float load;
  // Power factor of the load.
  float power_factor;
  // The board it starts from.
  uint16_t board;
  // How many sections.
  uint8_t section_count;
  // fp_phase
  uint8_t phase;
  // fp_shape
  uint8_t shape;
  // fp_use
  uint8_t purpose;
  // fp_demand
  uint8_t demand;
  // fp_load_class
  uint8_t load_class;
  // Points the load is spread over, 1: all at the end.
  uint8_t points;
  // 1 or 0.
  uint8_t has_rcd;
  // 1 where it feeds mobile equipment outdoors, else 0.
  uint8_t outdoors;
  // 1 where it is in or passes through a room with a bath or shower, else 0.
  uint8_t bath;
  // 1 where it is concealed in a wall at less than 50 mm without earthed metal, else 0.
  uint8_t concealed;
  // 1 where it is in a dwelling, else 0.
  uint8_t dwelling;
} fp_circuit;

// Why an input was refused.
typedef struct {
  // Which field.
  fp_field field;
  // Why.
  fp_reason reason;
  // The section of the circuit, counted from 0; FP_NO_SECTION where it is in none.
  uint8_t section;
} fp_error;

// Memory for an installation; what is in it is nobody's business. fp_installation_make makes one of it.
typedef struct {
  uint64_t words[FP_INSTALLATION_WORDS];
} fp_installation;

// What a display shows.
typedef struct {
  // The figure on the display.
  float figure;
  // 1 where it is over range: more than the figure; else 0.
  uint8_t above;
} fp_shown;

// An instrument on one range.
typedef struct {
  // Operating uncertainty as a share of the reading.
  float share;
  // And as a number of digits.
  float digits;
  // Step of the display.
  float resolution;
  // Resistance of leads that were not nulled, in Ω; 0 where they were.
  float lead;
  // Where its marked range begins.
  float range_from;
  // Where it ends.
  fp_optional range_to;
} fp_meter;

// A judged reading.
typedef struct {
  // The figure less the leads, or what was worked out of several.
  fp_optional value;
  // The smallest true value the display allows.
  fp_optional low;
  // The largest; none where it was over range.
  fp_optional high;
  // The limit, as it applies to the reading.
  fp_optional limit;
  // What the design expects at the temperature of the test.
  fp_optional expected;
  // What is missing: FP_READING_LACKING_...
  uint32_t lacking;
  // What may be behind it: FP_SUSPECT_...
  uint16_t suspects;
  // Which test.
  fp_test test;
  // How it came out.
  fp_outcome outcome;
  // What it means.
  fp_meaning meaning;
  // The rule.
  fp_reading_rule rule;
  // Unit of all of these.
  fp_unit unit;
  // Which side of the limit is good.
  fp_sense sense;
} fp_judged;

// A distribution board.
typedef struct {
  // Rated conditional short-circuit current of the assembly, in A.
  fp_optional conditional;
  // Demand as stated, in A.
  fp_optional demand;
  // RA of its own electrode, in Ω, where own_electrode is 1.
  fp_optional ra;
  // An RCD in front of all its circuits, where has_rcd is 1.
  fp_rcd rcd;
  // Main protective bonding, where has_bonding is 1.
  fp_conductor bonding;
  // Earthing conductor of its own electrode, where has_earthing_conductor is 1.
  fp_earthing_conductor earthing_conductor;
  // The circuit that feeds it, for FP_FEED_CIRCUIT.
  uint16_t circuit;
  // fp_feed
  uint8_t feed;
  // fp_enclosure; 0 where it was not said, which matters where an electrode is its earth.
  uint8_t enclosure;
  // 1 where it is earthed by an electrode of its own, else 0: as what feeds it.
  uint8_t own_electrode;
  // 1 or 0.
  uint8_t has_rcd;
  // 1 or 0.
  uint8_t has_bonding;
  // 1 or 0.
  uint8_t has_earthing_conductor;
  // 1 where there are extraneous-conductive-parts, else 0.
  uint8_t extraneous;
} fp_board;

// One check at one place.
typedef struct {
  // The value, where it could be computed.
  fp_optional value;
  // The limit it was held against.
  fp_optional limit;
  // What is missing: FP_LACKING_...
  uint32_t lacking;
  // What was taken for granted: FP_ASSUMED_...
  uint16_t assumed;
  // Which board or circuit; 0 for the origin.
  uint16_t id;
  // What the id counts.
  fp_place place;
  // Which check.
  fp_check check;
  // How it came out.
  fp_outcome outcome;
  // Unit of value and limit.
  fp_unit unit;
  // Which side of the limit is good.
  fp_sense sense;
  // The rule that decided.
  fp_rule rule;
  // The section that governs, counted from 0; or FP_NO_SECTION.
  uint8_t section;
  // The fp_earthing the installation was judged as.
  uint8_t earthing;
} fp_finding;

// Takes a finding as it comes; the finding is there only during the call. May be null where none is wanted.
typedef void (*fp_on_finding)(void *context, const fp_finding *finding);

// Figures of a circuit.
typedef struct {
  // Design current, in A.
  fp_optional ib;
  // Smallest capacity of the run, in A.
  fp_optional iz;
  // R1 + R2 at 20 °C to the furthest point, in Ω.
  fp_optional r1r2;
  // Zs at the furthest point, hot, in Ω.
  fp_optional zs;
  // Smallest earth fault current, in A.
  fp_optional fault_min;
  // Largest prospective current at the device, in A.
  fp_optional fault_max;
  // Volt drop from the origin to the furthest point, the one that decides, in V.
  fp_optional drop;
} fp_figures;

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

// Makes the design of one circuit right at the origin, judged as an fp_earthing (not FP_EARTHING_NOT_KNOWN), its
// conductors being at `ambient` °C during the tests.
//
// # Safety
// `memory` must be null or memory for an fp_design, other pointers null or of what their types say, the sections as
// many as the circuit says.
fp_status fp_design_of_circuit(fp_design *memory,
                               const fp_profile *profile,
                               const fp_supply *supply,
                               uint8_t earthing,
                               const fp_circuit *circuit,
                               float ambient,
                               fp_error *error);

// Makes the design of a circuit of an installation, with all that is upstream of it.
//
// # Safety
// `memory` must be null or memory for an fp_design, other pointers null or of what their types say.
fp_status fp_design_in_installation(fp_design *memory,
                                    const fp_installation *installation,
                                    uint8_t earthing,
                                    uint16_t circuit,
                                    float ambient,
                                    fp_error *error);

// Judges a Zs read at the furthest point, in Ω.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_read_zs(const fp_design *design,
                     const fp_shown *shown,
                     const fp_meter *meter,
                     fp_judged *judged,
                     fp_error *error);

// Judges an R1 + R2 read to the furthest point, in Ω.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_read_r1r2(const fp_design *design,
                       const fp_shown *shown,
                       const fp_meter *meter,
                       fp_judged *judged,
                       fp_error *error);

// Judges an R2 read to the furthest point, in Ω.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_read_r2(const fp_design *design,
                     const fp_shown *shown,
                     const fp_meter *meter,
                     fp_judged *judged,
                     fp_error *error);

// The largest Zs of the circuit, hot, and the largest reading at the temperature of the tests with which it is kept,
// both in Ω; either pointer may be null. FP_STATUS_NOT_KNOWN where there is none.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_design_max_zs(const fp_design *design,
                           float *hot,
                           float *reading);

// Makes an installation without boards and circuits of memory that need not hold anything yet. Nothing is to be
// done at its end.
//
// # Safety
// `memory` must be null or memory for an fp_installation, other pointers null or of what their types say.
fp_status fp_installation_make(fp_installation *memory,
                               const fp_profile *profile,
                               const fp_supply *supply,
                               fp_error *error);

// Adds a board and gives its number, counted from 0. A circuit it is fed by may be added later.
//
// # Safety
// Pointers must be null or of what their types say, and nobody else uses the installation meanwhile.
fp_status fp_installation_add_board(fp_installation *installation,
                                    const fp_board *board,
                                    uint16_t *id,
                                    fp_error *error);

// Adds a circuit and gives its number, counted from 0. Its sections are copied.
//
// # Safety
// Pointers must be null or of what their types say, the sections as many as the circuit says, and nobody else uses
// the installation meanwhile.
fp_status fp_installation_add_circuit(fp_installation *installation,
                                      const fp_circuit *circuit,
                                      uint16_t *id,
                                      fp_error *error);

// Judges the installation: as the supply says of its earthing; where that is not known, as TN-C-S and as TT, and
// the worse counts. What the tree contradicts itself in (a board that feeds itself, a circuit from no board) is
// refused with the first such error, and the rest is judged all the same: the outcome is then
// FP_OUTCOME_CANNOT_SAY at best.
//
// # Safety
// Pointers must be null or of what their types say, and nobody changes the installation meanwhile. `on_finding` must
// be null or may be called with `context`.
fp_status fp_installation_assess(const fp_installation *installation,
                                 fp_on_finding on_finding,
                                 void *context,
                                 fp_outcome *outcome,
                                 fp_error *error);

// Fills a profile with the plain IEC choices.
//
// # Safety
// `out` must be memory for an fp_profile.
fp_status fp_profile_iec(fp_profile *out);

// Fills a profile with the UK choices.
//
// # Safety
// `out` must be memory for an fp_profile.
fp_status fp_profile_uk(fp_profile *out);

// The greatest earth fault loop impedance with which a device disconnects in time: U0·cmin/Ia, in Ω, not rounded.
//
// On anything but FP_STATUS_OK the result is 0, which no loop is below.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_max_zs(const fp_device *device,
                    float seconds,
                    float u0,
                    float cmin,
                    float *ohms,
                    fp_error *error);

// Ia: the smallest current for which a device is known to disconnect within a time, in A.
//
// On anything but FP_STATUS_OK the result is infinite.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_disconnecting_current(const fp_device *device, float seconds, float *amps, fp_error *error);

// The longest disconnection time of a circuit, in s, by its fp_earthing (not FP_EARTHING_NOT_KNOWN), its fp_use and
// the rating of its device.
//
// On anything but FP_STATUS_OK the result is 0.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_required_time(uint8_t earthing,
                           float u0,
                           uint8_t purpose,
                           float rating,
                           float *seconds,
                           fp_error *error);

// Judges one circuit right at the origin, without a tree. What the supply says of its earthing counts; where that
// is not known, both ways are judged and the worse counts. The figures are of the last way that was judged and may
// be null.
//
// # Safety
// Pointers must be null or of what their types say; the sections as many as the circuit says. `on_finding` must be
// null or may be called with `context`.
fp_status fp_circuit_assess(const fp_profile *profile,
                            const fp_supply *supply,
                            const fp_circuit *circuit,
                            fp_on_finding on_finding,
                            void *context,
                            fp_figures *figures,
                            fp_outcome *outcome,
                            fp_error *error);

// Holds a reading against any limit, by its fp_sense: a pass only where every true value the display allows is on
// the good side.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_judge(uint8_t sense,
                   const fp_shown *shown,
                   const fp_meter *meter,
                   float limit,
                   fp_outcome *outcome,
                   fp_error *error);

// Judges an insulation resistance, in MΩ: of an fp_circuit_class and its nominal voltage, tested at a voltage, with
// surge protection or electronic gear connected or not (1 or 0), which can't be disconnected (1 or 0), so many
// circuits together.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_read_insulation(uint8_t circuit_class,
                             float nominal,
                             float test_voltage,
                             uint8_t gear,
                             uint8_t fixed_gear,
                             uint8_t circuits,
                             const fp_shown *shown,
                             const fp_meter *meter,
                             fp_judged *judged,
                             fp_error *error);

// Judges an operating time of an RCD, in s, at an fp_wave and an fp_multiple of IΔn. Over range is a test that ended
// without operation after that time.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_read_rcd_time(const fp_rcd *device,
                           uint8_t wave,
                           uint8_t multiple,
                           const fp_shown *shown,
                           const fp_meter *meter,
                           fp_judged *judged,
                           fp_error *error);

// Judges an operating current of an RCD found by a rising test current, in A. Over range is a test that ended
// without operation at that current.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_read_rcd_ramp(const fp_rcd *device,
                           uint8_t wave,
                           const fp_shown *shown,
                           const fp_meter *meter,
                           fp_judged *judged,
                           fp_error *error);

// Judges an electrode by the fall of potential: three readings in Ω (the stake in its place, nearer, further), the
// limit RA, in Ω, where an RCD gives one.
//
// # Safety
// `shown` must be null or three readings; other pointers null or of what their types say.
fp_status fp_read_electrode(const fp_shown *shown,
                            const fp_meter *meter,
                            fp_optional limit,
                            fp_judged *judged,
                            fp_error *error);

// Judges RA by the loop at the origin of a TT installation, in Ω.
//
// # Safety
// Pointers must be null or of what their types say.
fp_status fp_read_electrode_loop(const fp_shown *shown,
                                 const fp_meter *meter,
                                 fp_optional limit,
                                 fp_judged *judged,
                                 fp_error *error);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* FAULTPATH_H */
