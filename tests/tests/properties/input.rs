//! Any number in any field, and any tree of values for a job: no panic, and no pass without a figure.

use crate::any::{House, between, circuit, house, profile, supply};
use crate::{Seen, blemish, config, readings, refusals};
use faultpath::assess::assess_circuit;
use faultpath::cable::Arrangement;
use faultpath::device::{Device, Rcd};
use faultpath::error::Reason;
use faultpath::facts::{Drawn, Flow};
use faultpath::impedance::{External, Z};
use faultpath::network::{BoardEarthing, CircuitId, Demand, Protective, Section};
use faultpath::quantity::{
    AmpSquaredSeconds, Amps, Celsius, KelvinMetresPerWatt, Metres, Ohms, OhmsPerKm, Ratio,
    SquareMm, Volts, Watts,
};
use faultpath::solve::{changes, greatest_length, largest_rating, smallest_csa};
use faultpath::source::Source;
use faultpath::supply::{Conductor, FaultLevel, Origin};
use faultpath::verdict::{Outcome, Report};
use faultpath::words::{Rounding, rounded};
use faultpath_tests::vectors;
use faultpath_wasm::answer::{CHECKS, FIGURES, answer, place_of, worked_of, working};
use faultpath_wasm::evidence::{Reply, ask};
use faultpath_wasm::out::Out;
use faultpath_wasm::read::{read, reason_name};
use faultpath_wasm::value::Value;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use std::sync::OnceLock;

/// Any f32 there is, the odd ones often.
fn any_f32() -> impl Strategy<Value = f32> {
    prop_oneof![
        3 => any::<u32>().prop_map(f32::from_bits),
        2 => select(vec![
            0.0, -0.0, f32::NAN, f32::INFINITY, f32::NEG_INFINITY, f32::MIN_POSITIVE, f32::MAX, f32::MIN,
            f32::EPSILON, 1e-45, -1e-45, 1.0, -1.0, 1e-3, 1e-4, 1e-5, 1e5, 1e6, 1000.0, 999.999, -60.0, 0.03,
        ]),
        3 => between(-6.0, 7.0).prop_map(|e| 10.0f32.powf(e)),
    ]
}

/// Puts a number into a field, where the field's own type takes it.
type Put = fn(&mut House, usize, usize, f32);

fn sect(h: &mut House, c: usize, s: usize) -> &mut Section {
    let sections = &mut h.circuits[c].sections;
    let s = s % sections.len();
    &mut sections[s]
}

const FIELDS: &[Put] = &[
    // The supply.
    |h, _, _, v| {
        if let Ok(v) = Volts::new(v) {
            h.supply.u0 = v;
        }
    },
    |h, _, _, v| h.supply.ze = Ohms::new(v).ok(),
    |h, _, _, v| h.supply.ra = Ohms::new(v).ok(),
    |h, _, _, v| {
        if let Ok(v) = Amps::new(v) {
            h.supply.fault_level = FaultLevel::Stated(v, Origin::Measured);
        }
    },
    |h, _, _, v| h.supply.x_over_r = Ratio::new(v).ok(),
    |h, _, _, v| h.supply.neutral = SquareMm::new(v).ok(),
    |h, _, _, v| h.supply.tails = SquareMm::new(v).ok(),
    |h, _, _, v| {
        if let (Ok(v), Some(c)) = (SquareMm::new(v), &mut h.supply.earthing_conductor) {
            c.conductor.csa = v;
        }
    },
    |h, _, _, v| {
        if let (Ok(v), Some(c)) = (SquareMm::new(v), &mut h.supply.bonding) {
            c.csa = v;
        }
    },
    // The profile has plain numbers.
    |h, _, _, v| h.profile.cmin = v,
    |h, _, _, v| h.profile.cmax = v,
    |h, _, _, v| h.profile.drop_lighting = v,
    |h, _, _, v| h.profile.drop_other = v,
    |h, _, _, v| h.profile.source_electrode = v,
    |h, _, _, v| h.profile.touch_voltage = v,
    |h, _, _, v| h.profile.additional_protection = v,
    |h, _, _, v| h.profile.sockets_up_to = v,
    |h, c, s, v| {
        let d = &mut h.profile.diversity[c % 10];
        let all = [
            &mut d.first_amps,
            &mut d.first,
            &mut d.rest,
            &mut d.add,
            &mut d.largest,
            &mut d.second,
            &mut d.others,
        ];
        for (n, to) in all.into_iter().enumerate() {
            if n == s % 7 {
                *to = v;
            }
        }
    },
    // Boards.
    |h, c, _, v| {
        let n = c % h.boards.len();
        h.boards[n].earthing = BoardEarthing::OwnElectrode(Ohms::new(v).ok());
    },
    |h, c, _, v| {
        let n = c % h.boards.len();
        h.boards[n].conditional = Amps::new(v).ok();
    },
    |h, c, _, v| {
        let n = c % h.boards.len();
        h.boards[n].demand = Amps::new(v).ok();
    },
    // Circuits.
    |h, c, _, v| {
        if let Ok(d) = Amps::new(v).map(|v| h.circuits[c].device.with_rating(v)) {
            h.circuits[c].device = d.unwrap_or(h.circuits[c].device);
        }
    },
    |h, c, _, v| {
        if let Ok(v) = Amps::new(v) {
            h.circuits[c].device = h.circuits[c].device.with_breaking(v);
        }
    },
    |h, c, _, v| {
        if let Ok(v) = AmpSquaredSeconds::new(v) {
            h.circuits[c].device = h.circuits[c].device.with_let_through(v);
        }
    },
    |h, c, _, v| {
        if let Ok(v) = Amps::new(v) {
            h.circuits[c].load.demand = Demand::Current(v);
        }
    },
    |h, c, _, v| {
        if let Ok(v) = Watts::new(v) {
            h.circuits[c].load.demand = Demand::Power(v);
        }
    },
    |h, c, _, v| {
        if let Ok(v) = Ratio::new(v) {
            h.circuits[c].load.power_factor = v;
        }
    },
    |h, c, _, v| h.circuits[c].load.points = v as u8,
    // Sections.
    |h, c, s, v| {
        if let Ok(v) = Metres::new(v) {
            sect(h, c, s).length = v;
        }
    },
    |h, c, s, v| {
        if let Ok(v) = SquareMm::new(v) {
            sect(h, c, s).csa = v;
        }
    },
    |h, c, s, v| sect(h, c, s).neutral = SquareMm::new(v).ok(),
    |h, c, s, v| sect(h, c, s).operating_limit = Celsius::new(v).ok(),
    |h, c, s, v| sect(h, c, s).cores = v as u8,
    |h, c, s, v| {
        let s = sect(h, c, s);
        match &mut s.protective {
            Protective::Core(Conductor { csa, .. })
            | Protective::Separate(Conductor { csa, .. })
            | Protective::ArmourAndCore(_, Conductor { csa, .. }) => {
                if let Ok(v) = SquareMm::new(v) {
                    *csa = v;
                }
            }
            Protective::Armour(Some(steel)) | Protective::Enclosure(steel) => {
                steel.area = SquareMm::new(v).ok();
            }
            Protective::Armour(None) | Protective::None => {}
        }
    },
    |h, c, s, v| {
        let s = sect(h, c, s);
        if let (
            Ok(v),
            Protective::Armour(Some(steel))
            | Protective::ArmourAndCore(Some(steel), _)
            | Protective::Enclosure(steel),
        ) = (OhmsPerKm::new(v), &mut s.protective)
        {
            steel.resistance = v;
        }
    },
    |h, c, s, v| {
        if let Ok(v) = Celsius::new(v) {
            sect(h, c, s).laying.ambient = v;
        }
    },
    |h, c, s, v| sect(h, c, s).laying.grouped = v as u8,
    |h, c, s, v| {
        if let Ok(v) = Metres::new(v) {
            sect(h, c, s).laying.arrangement = Arrangement::Gap(v);
        }
    },
    |h, c, s, v| sect(h, c, s).laying.soil = KelvinMetresPerWatt::new(v).ok(),
    |h, c, s, v| sect(h, c, s).laying.depth = Metres::new(v).ok(),
    |h, c, s, v| sect(h, c, s).laying.insulation_run = Metres::new(v).ok(),
];

/// A house with a few numbers put in.
fn spoilt() -> impl Strategy<Value = House> {
    let one = (any::<Index>(), any::<Index>(), 0usize..12, any_f32());
    (house(), proptest::collection::vec(one, 1..6)).prop_map(|(mut house, all): (House, _)| {
        for (field, circuit, section, v) in all {
            let circuit = circuit.index(house.circuits.len());
            field.get(FIELDS)(&mut house, circuit, section, v);
        }
        house
    })
}

/// A figure of the profile, its range, and where it goes.
type Ruled = (f32, f32, fn(&mut House, f32));

const RULED: &[Ruled] = &[
    (0.5, 1.0, |h, v| h.profile.cmin = v),
    (1.0, 1.5, |h, v| h.profile.cmax = v),
    (0.001, 0.25, |h, v| h.profile.drop_lighting = v),
    (0.001, 0.25, |h, v| h.profile.drop_other = v),
    (0.001, 1000.0, |h, v| h.profile.source_electrode = v),
    (1.0, 120.0, |h, v| h.profile.touch_voltage = v),
    (0.001, 1.0, |h, v| h.profile.additional_protection = v),
    (1.0, 125.0, |h, v| h.profile.sockets_up_to = v),
    (0.0, 2.0, |h, v| {
        h.profile.diversity.iter_mut().for_each(|d| d.first = v)
    }),
    (0.0, 100.0, |h, v| {
        h.profile.diversity.iter_mut().for_each(|d| d.add = v)
    }),
];

proptest! {
    #![proptest_config(config())]

    /// What is said where a figure of the profile is not known is so whatever that figure is.
    #[test]
    fn a_figure_of_the_profile_that_is_not_known(
        house in house(), which in any::<Index>(), bad in select(vec![f32::NAN, f32::INFINITY, -1.0, 1e6]),
        share in 0.0f32..=1.0,
    ) {
        let (low, high, put) = *which.get(RULED);
        let mut without: House = house;
        put(&mut without, bad);
        for earthing in readings(&without) {
            let (outcome, seen) = Seen::of(&without, *earthing);
            prop_assert_ne!(outcome, Outcome::Pass);
            for f in &seen.findings {
                prop_assert_eq!(blemish(f), None);
            }
            for v in [low, low + share * (high - low), high] {
                let mut with = without.clone();
                put(&mut with, v.clamp(low, high));
                let (_, known) = Seen::of(&with, *earthing);
                let known = known.outcomes();
                for (place, said) in seen.outcomes() {
                    let would = known.iter().find(|(p, _)| *p == place).map(|(_, o)| *o);
                    // Asked for where it may be, and then not known.
                    if said != Outcome::CannotSay && would.is_some() {
                        prop_assert_eq!(Some(said), would, "{:?} with {}", place, v);
                    }
                }
                prop_assert!(known.iter().all(|(p, _)| seen.outcomes().iter().any(|(q, _)| q == p)));
            }
        }
    }

    #[test]
    fn any_number_in_any_field(house in spoilt()) {
        for earthing in readings(&house) {
            let (outcome, seen) = Seen::of(&house, *earthing);
            for f in &seen.findings {
                prop_assert_eq!(blemish(f), None);
            }
            if refusals(&house).is_empty() {
                prop_assert_eq!(outcome, seen.worst());
            } else {
                prop_assert_ne!(outcome, Outcome::Pass);
            }
        }
    }

    #[test]
    fn the_solver_takes_any_number(house in spoilt(), which in any::<Index>()) {
        let mut house: House = house;
        let id = CircuitId(which.index(house.circuits.len()) as u16);
        // Equal by what is printed, for a number that is none is not equal to itself.
        let before = format!("{house:?}");
        for earthing in readings(&house) {
            let _ = smallest_csa(&mut house, *earthing, id);
            let _ = largest_rating(&mut house, *earthing, id);
            if let Ok((_, length)) = greatest_length(&mut house, *earthing, id) {
                prop_assert!(length.get().is_finite());
            }
            changes(&mut house, *earthing, id, |_| {});
        }
        prop_assert_eq!(before, format!("{house:?}"));
    }

    /// A meter builds its source itself, of plain numbers.
    #[test]
    fn any_number_in_a_source(
        profile in profile(), supply in supply(), circuit in circuit(),
        put in proptest::collection::vec((0..22usize, any_f32()), 1..6), flow in proptest::option::of((any_f32(), any_f32())), three in any::<bool>(),
    ) {
        for earthing in supply.earthing.readings() {
            let mut s = Source::at_origin(&supply, *earthing, &profile);
            for (field, v) in &put {
                let v = *v;
                let external = Some(External { magnitude: v, x_over_r: Some(v) });
                match field {
                    0 => s.u0 = v,
                    1 => s.loop_external = external,
                    2 => s.loop_external_min = external,
                    3 => s.supply_min = external,
                    4 => s.ra = Some(v),
                    5 => s.line.hot.r = v,
                    6 => s.line.hot.x = v,
                    7 => s.line.cold.r = v,
                    8 => s.line.cold.x = v,
                    9 => s.neutral.hot = Z { r: v, x: v },
                    10 => s.neutral.cold = Z { r: v, x: v },
                    11 => s.protective.hot = Z { r: v, x: v },
                    12 => s.protective.cold = Z { r: v, x: v },
                    13..=15 => if let Some(d) = &mut s.drop { d.full[field - 13] = v },
                    16..=18 => if let Some(d) = &mut s.drop { d.load[field - 16] = v },
                    19 => if let Some(z) = &mut s.loop_external { z.x_over_r = Some(v) },
                    20 => if let Some(z) = &mut s.supply_min { z.magnitude = v },
                    _ => s.line_index = v as usize,
                }
            }
            let flow = flow.map(|(i, pf)| Flow::new([i, i, i], pf));
            let behind = flow.map(|all| Drawn::new(all, three));
            let mut report = Report::<32>::default();
            if let Ok((outcome, _)) = assess_circuit(&profile, &s, &circuit, behind.as_ref(), &mut report) {
                prop_assert_eq!(report.dropped, 0);
                prop_assert_eq!(outcome, report.outcome);
                for f in &report.findings {
                    prop_assert_eq!(blemish(f), None);
                }
            }
        }
    }

    /// Ratings and sensitivities that are made, and no others.
    #[test]
    fn only_what_is_made(v in any_f32(), family in 0..crate::any::FAMILIES.len()) {
        let family = crate::any::FAMILIES[family];
        if let Ok(i) = Amps::new(v) {
            prop_assert_eq!(Device::new(family, i).is_ok(), Device::ratings(family).contains(&v));
            let rcd = Rcd::new(i, faultpath::device::RcdType::A, faultpath::device::RcdDelay::None);
            prop_assert_eq!(rcd.is_ok(), Rcd::sensitivities().contains(&v));
        }
    }

    /// A number is shown on the side that was asked for, whatever it is.
    #[test]
    fn any_number_is_shown(v in any_f32(), digits in 1..8i32) {
        let shown = |way| {
            let mut out = String::new();
            rounded(&mut out, v, digits, way).unwrap();
            out
        };
        let (down, nearest, up) = (shown(Rounding::Down), shown(Rounding::Nearest), shown(Rounding::Up));
        prop_assert!(!nearest.is_empty());
        let read = |text: &str| text.replace('\u{2212}', "-").parse::<f64>().ok();
        if v.is_finite() && v.abs() < 1e15 {
            let (down, up) = (read(&down).unwrap(), read(&up).unwrap());
            let v = f64::from(v);
            let hair = v.abs() * 1e-7;
            prop_assert!(down <= v + hair && v - hair <= up, "{} {} {}", down, v, up);
        }
    }
}

// -------------------------------------------------------------------------------------- rows of the vectors

fn rows() -> &'static [vectors::Row] {
    static ROWS: OnceLock<Vec<vectors::Row>> = OnceLock::new();
    ROWS.get_or_init(|| {
        vectors::topics()
            .iter()
            .filter(|t| *t != "examples")
            .flat_map(|t| vectors::load(t).unwrap().rows)
            .collect()
    })
}

proptest! {
    #![proptest_config(config())]

    /// Every question with any number in the place of one of its own: a figure, a word, no panic.
    #[test]
    fn any_number_in_a_question(row in any::<Index>(), which in any::<Index>(), v in any_f32()) {
        let row = row.get(rows());
        let Value::Map(mut inputs) = row.inputs.clone() else {
            unreachable!()
        };
        let which = which.index(inputs.len());
        // The k of the table are plain numbers, and are not asked for by a person.
        prop_assume!(!inputs[which].0.starts_with("k_"));
        inputs[which].1 = Value::Number(f64::from(v));
        let question = Value::Map(vec![
            ("ask".to_owned(), Value::Text(row.ask.clone())),
            ("inputs".to_owned(), Value::Map(inputs)),
        ]);
        match ask(&question) {
            Reply::Number { value } => prop_assert!(value.is_finite(), "{:?} {}", question, value),
            Reply::Word { value } => prop_assert!(!value.is_empty(), "{:?}", question),
            Reply::Error { error } => prop_assert!(!error.is_empty()),
            _ => prop_assert!(false),
        }
    }
}

// ------------------------------------------------------------------------------------------ jobs as values

fn examples() -> &'static [Value] {
    static JOBS: OnceLock<Vec<Value>> = OnceLock::new();
    JOBS.get_or_init(|| {
        let mut paths: Vec<_> = std::fs::read_dir(vectors::folder().join("examples"))
            .unwrap()
            .map(|e| e.unwrap().path())
            .collect();
        paths.sort();
        paths
            .iter()
            .map(|p| serde_json::from_str(&std::fs::read_to_string(p).unwrap()).unwrap())
            .collect()
    })
}

/// Keys and words of the format, as the examples use them.
fn vocabulary() -> &'static (Vec<String>, Vec<String>) {
    static WORDS: OnceLock<(Vec<String>, Vec<String>)> = OnceLock::new();
    fn collect(v: &Value, keys: &mut Vec<String>, texts: &mut Vec<String>) {
        match v {
            Value::Text(t) => texts.push(t.clone()),
            Value::List(items) => items.iter().for_each(|v| collect(v, keys, texts)),
            Value::Map(map) => map.iter().for_each(|(k, v)| {
                keys.push(k.clone());
                collect(v, keys, texts);
            }),
            _ => {}
        }
    }
    WORDS.get_or_init(|| {
        let (mut keys, mut texts) = (Vec::new(), Vec::new());
        examples()
            .iter()
            .for_each(|v| collect(v, &mut keys, &mut texts));
        for list in [&mut keys, &mut texts] {
            list.sort();
            list.dedup();
        }
        (keys, texts)
    })
}

fn any_leaf() -> impl Strategy<Value = Value> {
    prop_oneof![
        1 => Just(Value::Null),
        1 => any::<bool>().prop_map(Value::Bool),
        3 => any_f32().prop_map(|v| Value::Number(f64::from(v))),
        1 => any::<u64>().prop_map(|v| Value::Number(f64::from_bits(v))),
        1 => (0..20i32).prop_map(|v| Value::Number(f64::from(v))),
        3 => select(vocabulary().1.clone()).prop_map(Value::Text),
        1 => ".{0,8}".prop_map(Value::Text),
    ]
}

fn any_value() -> impl Strategy<Value = Value> {
    any_leaf().prop_recursive(5, 60, 8, |inner| {
        let key = prop_oneof![8 => select(vocabulary().0.clone()), 1 => ".{0,5}"];
        prop_oneof![
            proptest::collection::vec(inner.clone(), 0..6).prop_map(Value::List),
            proptest::collection::vec((key, inner), 0..10).prop_map(Value::Map),
        ]
    })
}

fn count(v: &Value) -> usize {
    1 + match v {
        Value::List(items) => items.iter().map(count).sum(),
        Value::Map(map) => map.iter().map(|(_, v)| count(v)).sum(),
        _ => 0,
    }
}

/// Changes the value at a place counted through the tree.
fn change(v: &mut Value, at: &mut usize, with: &mut dyn FnMut(&mut Value)) {
    if *at == 0 {
        with(v);
        *at = usize::MAX;
        return;
    }
    *at -= 1;
    match v {
        Value::List(items) => {
            for v in items {
                if *at == usize::MAX {
                    return;
                }
                change(v, at, with);
            }
        }
        Value::Map(map) => {
            for (_, v) in map {
                if *at == usize::MAX {
                    return;
                }
                change(v, at, with);
            }
        }
        _ => {}
    }
}

#[derive(Clone, Debug)]
enum Edit {
    Put(Value),
    Remove(Index),
    Twice(Index),
    Name(Index, String),
}

fn edit() -> impl Strategy<Value = Edit> {
    prop_oneof![
        6 => any_leaf().prop_map(Edit::Put),
        2 => any_value().prop_map(Edit::Put),
        1 => any::<Index>().prop_map(Edit::Remove),
        1 => any::<Index>().prop_map(Edit::Twice),
        1 => (any::<Index>(), select(vocabulary().0.clone())).prop_map(|(i, s)| Edit::Name(i, s)),
    ]
}

/// An example with some of it changed.
fn mutated() -> impl Strategy<Value = Value> {
    (
        select((0..examples().len()).collect::<Vec<_>>()),
        proptest::collection::vec((any::<Index>(), edit()), 0..5),
    )
        .prop_map(|(n, edits)| {
            let mut job = examples()[n].clone();
            for (place, edit) in edits {
                let mut at = place.index(count(&job));
                change(&mut job, &mut at, &mut |v| match (&edit, v) {
                    (Edit::Put(new), v) => *v = new.clone(),
                    (Edit::Remove(i), Value::Map(map)) if !map.is_empty() => {
                        map.remove(i.index(map.len()));
                    }
                    (Edit::Remove(i), Value::List(items)) if !items.is_empty() => {
                        items.remove(i.index(items.len()));
                    }
                    (Edit::Twice(i), Value::Map(map)) if !map.is_empty() => {
                        map.push(map[i.index(map.len())].clone());
                    }
                    (Edit::Twice(i), Value::List(items)) if !items.is_empty() => {
                        items.push(items[i.index(items.len())].clone());
                    }
                    (Edit::Name(i, name), Value::Map(map)) if !map.is_empty() => {
                        let i = i.index(map.len());
                        map[i].0.clone_from(name);
                    }
                    _ => {}
                });
            }
            job
        })
}

fn judged(job: &Value) -> Result<(), TestCaseError> {
    let answer = answer(read(job));
    let outcome = answer.get("outcome").text().unwrap_or("");
    prop_assert!(["pass", "fail", "cannot-say"].contains(&outcome));
    let errors = answer.get("errors").items();
    let judgements = answer.get("judgements").items();
    if outcome == "pass" {
        prop_assert!(errors.is_empty() && !judgements.is_empty());
    }
    for e in errors {
        let text = |key| e.get(key).text().unwrap_or("");
        prop_assert!(!text("reason").is_empty());
        // Where it has no words of its own, the catalogue has them for its reason.
        let known = || {
            Reason::ALL
                .iter()
                .any(|r| reason_name(*r) == text("reason"))
        };
        prop_assert!(*e.get("wrong") != Out::Null || known());
        prop_assert_ne!(text("reason"), "refused");
    }
    let places = judgements.iter().flat_map(|j| j.get("places").items());
    for f in places.flat_map(|p| p.get("findings").items()) {
        for key in ["value", "limit", "margin"] {
            prop_assert!(finite(f.get(key)));
        }
        let own = f.get("outcome").text().unwrap_or("");
        prop_assert!(["pass", "fail", "cannot-say"].contains(&own));
        if outcome == "pass" {
            prop_assert_eq!(own, "pass");
        }
        if own == "cannot-say" {
            prop_assert_ne!(f.get("lacking"), &Out::Count(0), "{:?}", f);
        }
    }
    prop_assert!(serde_json::to_string(&answer).is_ok());
    Ok(())
}

/// Everything there is a working of.
fn worked() -> Vec<&'static str> {
    let checks = CHECKS.iter().map(|(name, _)| *name);
    checks
        .chain(FIGURES.iter().map(|(name, _)| *name))
        .collect()
}

/// A figure that is one, or none at all.
fn finite(v: &Out) -> bool {
    match v {
        Out::Number(v) => v.is_finite(),
        other => *other == Out::Null,
    }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn any_tree_of_values_is_read(job in any_value()) {
        judged(&job)?;
    }

    #[test]
    fn any_change_to_an_example_is_read(job in mutated()) {
        judged(&job)?;
    }

    #[test]
    fn any_change_to_an_example_has_its_working(job in mutated(), which in any::<Index>(), asked in select(worked())) {
        let of = worked_of(asked).unwrap();
        let mut job = read(&job);
        if let Some(name) = job.circuits.get(which.index(job.circuits.len().max(1))).copied() {
            for judgement in 0..3 {
                for step in place_of(&job, "circuit", name).map(|p| working(&job, judgement, p, of)).iter().flat_map(Out::items) {
                    prop_assert!(finite(step.get("value")));
                }
                for step in place_of(&job, "supply", "").map(|p| working(&job, judgement, p, of)).iter().flat_map(Out::items) {
                    prop_assert!(finite(step.get("value")));
                }
            }
            if job.circuits.len() < 20 {
                let _ = faultpath_wasm::solutions::solve(&mut job, 0, name);
            }
        }
    }
}
