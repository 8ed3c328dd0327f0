//! Questions on readings: the guard band, each test by itself, readings of a circuit of a job, rings, the order.
//!
//! A reading is `shown`, or `above` where it was over range, with the instrument's `share`, `digits` and
//! `resolution`, and `lead`, `from`, `to` where it has them.

use super::{Inputs, Reply};
use crate::answer::outcome_name;
use crate::names::{self, Choices, choices};
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::read;
use crate::value::Value;
use faultpath::assess::figures;
use faultpath::device::{Device, Known, Rcd, max_zs};
use faultpath::network::CircuitId;
use faultpath::quantity::{Amps, Celsius, Metres, Ratio, SquareMm, Volts};
use faultpath::reading::design::{Ends, at_temperature};
use faultpath::reading::insulation::{Class, Made};
use faultpath::reading::interval::{Accuracy, Function, Interval, Shown, interval, of_current};
use faultpath::reading::polarity::{Polarity, Rotation};
use faultpath::reading::rcd::{Multiple, Wave};
use faultpath::reading::ring::{Conductors, EndReadings, Patterns, Socket};
use faultpath::reading::sequence::{Done, Energise, Next, Step, Steps};
use faultpath::reading::{
    Design, Judged, Meaning, Rule, Side, continuity, electrode, fault_loop, insulation,
    interval as band, polarity, rcd, ring, sequence,
};
use faultpath::supply::Conductor;
use faultpath::verdict::{Outcome, Sense};

const FUNCTIONS: Choices<Function> = choices! {
    "insulation", "" => Function::Insulation;
    "loop", "" => Function::Loop;
    "fault-current", "" => Function::FaultCurrent;
    "low-resistance", "" => Function::LowResistance;
    "earth-resistance", "" => Function::EarthResistance;
    "rcd-time", "" => Function::RcdTime;
    "rcd-current", "" => Function::RcdCurrent;
};
const SENSES: Choices<Sense> = choices! {
    "at-most", "" => Sense::AtMost;
    "at-least", "" => Sense::AtLeast;
};
const WAVES: Choices<Wave> = choices! {
    "sine", "" => Wave::Sine;
    "half-wave", "" => Wave::Half;
    "smooth", "" => Wave::Smooth;
};
const POLARITIES: Choices<Polarity> = choices! {
    "right", "" => Polarity::Right;
    "line-neutral", "" => Polarity::LineNeutral;
    "line-protective", "" => Polarity::LineProtective;
    "neutral-protective", "" => Polarity::NeutralProtective;
    "switch-in-neutral", "" => Polarity::SwitchInNeutral;
    "lampholder", "" => Polarity::Lampholder;
};
const ROTATIONS: Choices<Rotation> = choices! {
    "forward", "" => Rotation::Forward;
    "backward", "" => Rotation::Backward;
};
const STEPS: Choices<Step> = choices! {
    "bonding", "" => Step::Bonding;
    "protective", "" => Step::Protective;
    "armour", "" => Step::Armour;
    "ring", "" => Step::Ring;
    "insulation", "" => Step::Insulation;
    "polarity", "" => Step::Polarity;
    "electrode", "" => Step::Electrode;
    "ze", "" => Step::Ze;
    "fault-current", "" => Step::FaultCurrent;
    "zs", "" => Step::Zs;
    "rcd", "" => Step::Rcd;
    "phase-sequence", "" => Step::PhaseSequence;
    "volt-drop", "" => Step::VoltDrop;
};
const PATTERNS: [(Patterns, &str); 11] = [
    (Patterns::HEALTHY, "healthy"),
    (Patterns::OPEN, "open"),
    (Patterns::JOINT, "joint"),
    (Patterns::NOT_CROSSED, "not-crossed"),
    (Patterns::SPUR, "spur"),
    (Patterns::SPUR_ON_SPUR, "spur-on-spur"),
    (Patterns::CLOSED_LOOP, "closed-loop"),
    (Patterns::BRIDGED, "bridged"),
    (Patterns::JOINT_AT_SOCKET, "joint-at-socket"),
    (Patterns::PARALLEL_PATH, "parallel-path"),
    (Patterns::SHORT, "short"),
];
const CONDUCTORS: [(Conductors, &str); 3] = [
    (Conductors::LINE, "line"),
    (Conductors::NEUTRAL, "neutral"),
    (Conductors::PROTECTIVE, "protective"),
];

fn meaning_name(m: Meaning) -> &'static str {
    match m {
        Meaning::Clear => "clear",
        Meaning::InsideBand => "inside-band",
        Meaning::Beyond => "beyond",
        Meaning::NotBelievable => "not-believable",
        Meaning::Open => "open",
        Meaning::Short => "short",
        Meaning::AboveDesign => "above-design",
        Meaning::BelowDesign => "below-design",
        Meaning::GearConnected => "gear-connected",
        Meaning::TestEachAlone => "test-each-alone",
        Meaning::TestVoltageTooLow => "test-voltage-too-low",
        Meaning::TrippedAtHalf => "tripped-at-half",
        Meaning::NoTrip => "no-trip",
        Meaning::TooSoon => "too-soon",
        Meaning::TooLate => "too-late",
        Meaning::TestTooShort => "test-too-short",
        Meaning::TooSensitive => "too-sensitive",
        Meaning::MoveStakes => "move-stakes",
        Meaning::Crossed => "crossed",
        Meaning::Reversed => "reversed",
        Meaning::RingPattern => "ring-pattern",
        Meaning::TooCoarse => "too-coarse",
        Meaning::OnlyRcd => "only-rcd",
        _ => "unknown",
    }
}

fn word(value: &str) -> Reply {
    Reply::Word {
        value: value.to_owned(),
    }
}

fn number(value: f32) -> Reply {
    Reply::Number { value }
}

fn shown(i: &Inputs<'_>, value: &str, above: &str) -> Option<Shown> {
    match (i.number(value)?, i.number(above)?) {
        (Some(v), None) => i.given(Shown::value(v)),
        (None, Some(v)) => i.given(Shown::above(v)),
        _ => i.wrong(&["either ", value, " or ", above]),
    }
}

fn reading(i: &Inputs<'_>) -> Option<Shown> {
    shown(i, "shown", "above")
}

fn meter(i: &Inputs<'_>) -> Option<Accuracy> {
    let plain = |key| i.need(key, Ok);
    let mut m = i.given(Accuracy::new(
        plain("share")?,
        plain("digits")?,
        plain("resolution")?,
    ))?;
    if let Some(lead) = i.number("lead")? {
        m = i.given(m.with_lead(lead))?;
    }
    match (i.number("from")?, i.number("to")?) {
        (None, None) => {}
        (from, to) => m = i.given(m.with_range(from.unwrap_or(0.0), to))?,
    }
    Some(m)
}

fn conductor(i: &Inputs<'_>) -> Option<Conductor> {
    Some(Conductor {
        material: i.choice("material", names::MATERIALS)?,
        csa: i.need("csa", SquareMm::new)?,
    })
}

fn multiple(i: &Inputs<'_>) -> Option<Multiple> {
    match i.number("multiple")? {
        Some(0.5) => Some(Multiple::Half),
        Some(1.0) => Some(Multiple::One),
        Some(2.0) => Some(Multiple::Two),
        Some(5.0) => Some(Multiple::Five),
        _ => i.wrong(&["multiple is 0.5, 1, 2 or 5"]),
    }
}

fn class(i: &Inputs<'_>) -> Option<Class> {
    if i.flag("extra_low") {
        return Some(Class::ExtraLow);
    }
    Some(Class::Nominal(i.need("voltage", Volts::new)?))
}

/// A list of numbers.
#[allow(clippy::cast_possible_truncation)]
fn list(i: &Inputs<'_>, key: &str) -> Option<Vec<f32>> {
    let Value::List(items) = i.get(key) else {
        return Some(Vec::new());
    };
    let mut out = Vec::new();
    for item in items {
        match item {
            Value::Number(v) => out.push(*v as f32),
            _ => return i.wrong(&[key, " is a list of numbers"]),
        }
    }
    Some(out)
}

fn steps(i: &Inputs<'_>, key: &str) -> Option<Vec<Step>> {
    let Value::List(items) = i.get(key) else {
        return Some(Vec::new());
    };
    let mut out = Vec::new();
    for item in items {
        let found = STEPS
            .names
            .iter()
            .position(|name| Some(*name) == item.text());
        match found.and_then(|n| STEPS.values.get(n)) {
            Some(step) => out.push(*step),
            None => return i.wrong(&[key, " is a list of tests"]),
        }
    }
    Some(out)
}

/// Which half of a judged reading is wanted; the outcome where nothing is said.
fn want(i: &Inputs<'_>, j: &Judged) -> Option<Reply> {
    let want = i.get("want").text().unwrap_or("outcome");
    let compared = j.compared;
    Some(match want {
        "outcome" => word(outcome_name(j.outcome)),
        "meaning" => word(meaning_name(j.meaning)),
        "value" => number(j.value?),
        "limit" => number(j.limit?),
        "low" => number(j.interval?.low),
        "high" => number(j.interval?.high?),
        "expected" => number(compared?.expected),
        "band-low" => number(compared?.low),
        "band-high" => number(compared?.high),
        "side" => word(match compared?.side {
            Side::Below => "below",
            Side::Within => "within",
            Side::Above => "above",
        }),
        "quick" => word(outcome_name(j.quick?.outcome)),
        "quick-limit" => number(j.quick?.limit),
        // Its place in the list of the rules.
        "rule" => number(f32::from(
            u8::try_from(Rule::ALL.iter().position(|r| *r == j.rule)?).ok()?,
        )),
        _ => return i.wrong(&["no such want: ", want]),
    })
}

/// A reading of a circuit of a job.
fn of_circuit(i: &Inputs<'_>) -> Option<Reply> {
    let job = read::read(i.get("job"));
    let name = i.text("circuit")?;
    let Some(n) = job.circuits.iter().position(|c| *c == name) else {
        return i.wrong(&["no such circuit"]);
    };
    let id = CircuitId(u16::try_from(n).ok()?);
    let (house, earthing) = job.reading(0)?;
    let (source, facts) = figures(house, earthing, id)?;
    let design = Design {
        profile: &house.profile,
        source: &source,
        circuit: house.circuit(id)?,
        facts: &facts,
        ambient: i.need("ambient", Celsius::new)?,
    };
    let test = i.text("test")?;
    let of_design = match test {
        "max-r1r2" => Some(design.max_r1r2()),
        "max-ze" => Some(design.max_ze()),
        "max-zs" => Some(design.max_zs().map(|m| m.limit)),
        "zs-hot" => Some(design.zs_hot(i.need("zs", Ok)?)),
        "zs-cold" => Some(design.zs_cold(i.need("zs", Ok)?)),
        "expected-r1" => Some(design.ends().map(|e| e.line)),
        "expected-rn" => Some(design.ends().map(|e| e.neutral)),
        "expected-r2" => Some(design.ends().map(|e| e.protective)),
        "expected-armour" => Some(design.armour()),
        "hot-factor" => Some(design.hot_factor()),
        _ => None,
    };
    if let Some(figure) = of_design {
        return figure.map(number);
    }
    let (shown, m) = (reading(i)?, meter(i)?);
    let judged = match test {
        "zs" => fault_loop::zs(&design, shown, &m),
        "r1r2" => continuity::r1r2(&design, shown, &m),
        "r2" => continuity::r2(&design, shown, &m),
        "armour" => continuity::armour(&design, shown, &m),
        _ => return i.wrong(&["no such test: ", test]),
    };
    want(i, &judged)
}

/// The pattern of a ring, names of all that fit joined by `+`; or `conductors`, `outcome`, `raise`.
fn diagnosis(i: &Inputs<'_>) -> Option<Reply> {
    let m = meter(i)?;
    let ends = EndReadings {
        line: shown(i, "r1", "r1_above")?,
        neutral: shown(i, "rn", "rn_above")?,
        protective: shown(i, "r2", "r2_above")?,
    };
    let design = match (
        i.number("design_r1")?,
        i.number("design_rn")?,
        i.number("design_r2")?,
    ) {
        (Some(line), Some(neutral), Some(protective)) => Some(Ends {
            line,
            neutral,
            protective,
        }),
        _ => None,
    };
    let (n, p, c) = (
        list(i, "line_neutral")?,
        list(i, "line_protective")?,
        list(i, "cables")?,
    );
    let mut sockets = Vec::new();
    for at in 0..n.len().max(p.len()) {
        let shown = |of: &[f32]| of.get(at).copied().map(Shown::Value);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        sockets.push(Socket {
            line_neutral: shown(&n),
            line_protective: shown(&p),
            cables: c.get(at).map(|v| *v as u8),
        });
    }
    let d = ring::diagnose(Some(ends), &sockets, &m, design);
    let names = |all: &mut dyn Iterator<Item = &'static str>| {
        let all: Vec<&str> = all.collect();
        // None is no word.
        (!all.is_empty()).then(|| word(&all.join("+")))
    };
    Some(match i.get("want").text().unwrap_or("patterns") {
        "patterns" => names(
            &mut PATTERNS
                .iter()
                .filter(|(p, _)| d.patterns.contains(*p))
                .map(|(_, name)| *name),
        )?,
        "conductors" => names(
            &mut CONDUCTORS
                .iter()
                .filter(|(c, _)| d.conductors.contains(*c))
                .map(|(_, name)| *name),
        )?,
        "outcome" => word(outcome_name(
            ring::judged(&d, usize::from(i.count("spurs")?)).outcome,
        )),
        "raise" => number(d.raise),
        "expected" => number(d.expected?),
        "band" => number(d.band?),
        "too-coarse" => word(if d.too_coarse { "yes" } else { "no" }),
        _ => return i.wrong(&["no such want"]),
    })
}

fn order(name: &str, i: &Inputs<'_>) -> Option<Reply> {
    let mut needs = Steps::empty();
    for step in steps(i, "needs")? {
        needs |= step.flag();
    }
    let mut done = Done::new(if i.flag("design_fails") {
        Outcome::Fail
    } else {
        Outcome::Pass
    });
    for step in steps(i, "passed")? {
        done.set(step, Outcome::Pass);
    }
    for step in steps(i, "failed")? {
        done.set(step, Outcome::Fail);
    }
    for step in steps(i, "doubtful")? {
        done.set(step, Outcome::Doubtful);
    }
    done.gear_out = i.flag("gear_out");
    done.earthing_out = i.flag("earthing_out");
    done.energised = i.flag("energised");
    if name == "next-test" {
        return Some(word(match sequence::next(needs, &done) {
            Next::Test { step, .. } => STEPS.name_of(step),
            Next::Energise(Energise::Yes) => "energise",
            Next::Energise(Energise::Stop(_)) => "stop",
            Next::Complete => "complete",
        }));
    }
    Some(match sequence::may_be_energised(needs, &done) {
        Energise::Yes => word("yes"),
        // How many things stop it.
        Energise::Stop(stops) => number(f32::from(u8::try_from(stops.len()).ok()?)),
    })
}

/// `Some(None)` where it is none of these questions.
pub(super) fn reply(name: &str, i: &Inputs<'_>) -> Option<Option<Reply>> {
    answer(name, i).map_or_else(
        || None,
        |reply| match reply {
            Reply::Error { .. } => Some(None),
            other => Some(Some(other)),
        },
    )
}

fn answer(name: &str, i: &Inputs<'_>) -> Option<Reply> {
    Some(match name {
        "guard-band-low" => number(interval(reading(i)?, &meter(i)?).low),
        "guard-band-high" => number(interval(reading(i)?, &meter(i)?).high?),
        "guard-band" => word(outcome_name(band::judge(
            i.choice("sense", SENSES)?,
            interval(reading(i)?, &meter(i)?),
            i.need("limit", Ok)?,
        ))),
        "current-low" => number(of_current(reading(i)?, &meter(i)?).low),
        "current-high" => number(of_current(reading(i)?, &meter(i)?).high?),
        "standard-uncertainty" => {
            number(Accuracy::standard(i.choice("function", FUNCTIONS)?).share())
        }
        "temperature-corrected" => number(at_temperature(
            i.choice("material", names::TABLE_MATERIALS)?,
            i.need("value", Ok)?,
            i.need("from", Celsius::new)?,
            i.need("to", Celsius::new)?,
        )),
        "ring-cross" => number(ring::crossed(
            i.need("ra", Ok)?,
            i.need("rb", Ok)?,
            i.need("x", Ok)?,
        )),
        "ring-straight" => number(ring::straight(
            i.need("ra", Ok)?,
            i.need("rb", Ok)?,
            i.need("x", Ok)?,
        )),
        "ring-diagnosis" => diagnosis(i)?,
        "insulation-least" => number(insulation::required(class(i)?).least),
        "insulation-voltage" => number(insulation::required(class(i)?).test_voltage),
        "insulation" => {
            let made = Made {
                test_voltage: i.need("test_voltage", Ok)?,
                gear: i.flag("gear"),
                fixed_gear: i.flag("fixed_gear"),
                circuits: i.count("circuits")?,
            };
            want(
                i,
                &insulation::judge(class(i)?, made, reading(i)?, &meter(i)?),
            )?
        }
        "insulation-parallel" => {
            let all = list(i, "values")?;
            number(insulation::parallel(all.into_iter().map(Interval::exact))?.low)
        }
        "fall-of-potential"
        | "fall-of-potential-deviation"
        | "fall-of-potential-scaled"
        | "fall-of-potential-valid" => {
            let a = electrode::agreement([i.need("a", Ok)?, i.need("b", Ok)?, i.need("c", Ok)?]);
            match name {
                "fall-of-potential" => number(a.mean),
                "fall-of-potential-deviation" => number(a.deviation),
                "fall-of-potential-scaled" => number(a.scaled),
                _ => word(if a.valid { "yes" } else { "no" }),
            }
        }
        "electrode-by-loop" => {
            let limit = match i.maybe("sensitivity", Amps::new)? {
                Some(residual) => Some(electrode::limit(i.need("touch", Volts::new)?, residual)),
                None => None,
            };
            want(i, &electrode::by_loop(reading(i)?, &meter(i)?, limit))?
        }
        "rcd-time-latest" => number(rcd::latest(&i.rcd()?, multiple(i)?)?),
        "rcd-time-earliest" => number(rcd::earliest(&i.rcd()?, multiple(i)?)?),
        "rcd-test-current" => number(rcd::test_current(
            &i.rcd()?,
            i.choice("wave", WAVES)?,
            multiple(i)?,
        )?),
        "rcd-time" => want(
            i,
            &rcd::time(
                &i.rcd()?,
                i.choice("wave", WAVES)?,
                multiple(i)?,
                reading(i)?,
                &meter(i)?,
            ),
        )?,
        "rcd-ramp" => want(
            i,
            &rcd::ramp(&i.rcd()?, i.choice("wave", WAVES)?, reading(i)?, &meter(i)?),
        )?,
        "rcds-select" => {
            let upstream: Rcd = i.given(Rcd::new(
                i.need("upstream_sensitivity", Amps::new)?,
                i.choice("kind", names::RCD_TYPES)?,
                i.choice("upstream_delay", names::DELAYS)?,
            ))?;
            word(if sequence::selective(&upstream, &i.rcd()?) {
                "yes"
            } else {
                "no"
            })
        }
        "quick-zs" => {
            let device: Device = i.device()?;
            match max_zs(
                &device,
                i.time()?,
                i.need("u0", Volts::new)?,
                i.need("cmin", Ratio::new)?,
            ) {
                Known::Value(z) => number(fault_loop::QUICK_SHARE * z.get()),
                Known::NotKnown(_) => return None,
            }
        }
        "bonding-limit" => number(i.given(continuity::bonding_limit(
            conductor(i)?,
            i.need("length", Metres::new)?,
            i.need("temperature", Celsius::new)?,
        ))?),
        "bonding" => {
            let judged = i.given(continuity::bonding(
                conductor(i)?,
                i.need("length", Metres::new)?,
                i.need("temperature", Celsius::new)?,
                reading(i)?,
                &meter(i)?,
            ))?;
            want(i, &judged)?
        }
        "supplementary-bonding" => want(
            i,
            &continuity::supplementary(
                i.need("touch", Volts::new)?,
                i.current()?,
                reading(i)?,
                &meter(i)?,
            ),
        )?,
        "fault-current" => {
            let read = fault_loop::Currents {
                line_neutral: i.number("line_neutral")?.map(Shown::Value),
                line_earth: i.number("line_earth")?.map(Shown::Value),
                three_phase: i.number("three_phase")?.map(Shown::Value),
                phases_three: i.flag("phases_three"),
            };
            want(
                i,
                &fault_loop::fault_current(
                    &read,
                    &meter(i)?,
                    i.number("breaking")?,
                    i.need("cmax", Ok)?,
                    i.number("expected")?,
                ),
            )?
        }
        "polarity" => word(outcome_name(
            polarity::polarity(i.choice("found", POLARITIES)?).outcome,
        )),
        "phase-sequence" => {
            let origin = match i.get("origin") {
                Value::Null => None,
                _ => Some(i.choice("origin", ROTATIONS)?),
            };
            word(outcome_name(
                polarity::sequence(i.choice("here", ROTATIONS)?, origin).outcome,
            ))
        }
        "reading" => of_circuit(i)?,
        "may-energise" | "next-test" => order(name, i)?,
        // Told apart from no value by `reply`.
        _ => Reply::Error {
            error: String::new(),
        },
    })
}
