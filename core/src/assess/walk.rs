//! The walk over whole trees: sums by hand, RCDs on the way, what is not sound.

use super::*;
use crate::device::{Curve, RcdDelay};
use crate::fixture::{amps, board, breaker, circuit, house, lamp, mm2, ratio, rcd, section};
use crate::network::Demand;
use crate::supply::{Conductor, FaultLevel, Origin, Phases};
use crate::verdict::{Assumed, Check, Rule, Step};
use std::vec::Vec;

type House = Installation<4, 8>;

/// Keeps all that is said.
#[derive(Default)]
struct Kept {
    boards: Vec<(Place, BoardFacts)>,
    fed: Vec<(CircuitId, Source)>,
    circuits: Vec<(CircuitId, CircuitFacts)>,
    findings: Vec<Finding>,
}

impl Recorder for Kept {
    fn finding(&mut self, f: &Finding) {
        self.findings.push(*f);
    }
    fn fed(&mut self, id: CircuitId, source: &Source) {
        self.fed.push((id, *source));
    }
    fn circuit(&mut self, id: CircuitId, facts: &CircuitFacts) {
        self.circuits.push((id, facts.clone()));
    }
    fn board(&mut self, place: Place, facts: &BoardFacts) {
        self.boards.push((place, *facts));
    }
    fn step(&mut self, step: &Step) {
        panic!("no steps were wanted: {step:?}");
    }
}

impl Kept {
    fn of(inst: &House, earthing: Earthing) -> Self {
        let mut out = Self::default();
        let _ = assess(inst, earthing, &mut out);
        out
    }
    fn demand(&self, place: Place) -> Option<[f32; 3]> {
        let (_, facts) = self.boards.iter().find(|(p, _)| *p == place).unwrap();
        facts.demand
    }
    /// Of the supply and the four boards.
    fn demands(&self) -> [Option<[f32; 3]>; 5] {
        [4, 0, 1, 2, 3].map(|b| match b {
            4 => self.demand(Place::Supply),
            b => self.demand(Place::Board(BoardId(b))),
        })
    }
    fn found(&self, place: Place, check: Check) -> Finding {
        let one = |f: &&Finding| f.place == place && f.check == check;
        *self.findings.iter().find(one).unwrap()
    }
}

/// Three phases to a second board, one of them to a third and from there to a fourth.
fn tree() -> House {
    let mut h = house();
    h.profile = Profile::UK;
    h.supply.phases = Phases::Three;
    h.supply.fault_level = FaultLevel::Stated(amps(2000.0), Origin::Measured);
    h.circuits.clear();
    for (from, purpose, phase, class, load) in [
        (
            0,
            Use::Distribution,
            Phase::Three,
            LoadClass::Lighting,
            None,
        ),
        (0, Use::Fixed, Phase::L1, LoadClass::Other, Some(10.0)),
        (1, Use::Fixed, Phase::L3, LoadClass::Other, Some(12.0)),
        (1, Use::Sockets, Phase::L1, LoadClass::Sockets, Some(20.0)),
        (0, Use::Distribution, Phase::L2, LoadClass::Cooker, None),
        // Where only L2 is, everything is on it.
        (2, Use::Fixed, Phase::L1, LoadClass::Cooker, Some(30.0)),
        (2, Use::Distribution, Phase::L1, LoadClass::Sockets, None),
        (3, Use::Fixed, Phase::L3, LoadClass::Other, Some(4.0)),
    ] {
        let s = section(5.0, 10.0);
        let mut c = circuit(from, purpose, breaker(Curve::B, 32.0), load, s);
        (c.phase, c.load.class) = (phase, class);
        h.circuits.push(c).unwrap();
    }
    h.boards.push(board(Some(4))).unwrap();
    h.boards.push(board(Some(6))).unwrap();
    h
}

#[test]
fn demand_by_line_from_the_last_board_to_the_supply() {
    let of = |h: &House| Kept::of(h, Earthing::TnCS).demands();
    let only = |i| Some([0.0, i, 0.0]);
    let mut h = tree();
    // A cooker of 30 A counts 21 A where it is; what comes by a feed counts in full, whatever class it has.
    let all = Some([30.0, 25.0, 12.0]);
    let second = Some([20.0, 0.0, 12.0]);
    assert_eq!(of(&h), [all, all, second, only(25.0), only(4.0)]);
    // Stated, it is on each line that reaches the board.
    h.boards[1].demand = Some(amps(15.0));
    h.boards[3].demand = Some(amps(7.0));
    let all = Some([25.0, 43.0, 15.0]);
    let second = Some([15.0; 3]);
    assert_eq!(of(&h), [all, all, second, only(28.0), only(7.0)]);
    // Stated as not known it stays so all the way up.
    h.boards[3].demand = Board::DEMAND_NOT_KNOWN;
    assert_eq!(of(&h), [None, None, second, None, None]);
    let kept = Kept::of(&h, Earthing::TnCS);
    for place in [Place::Supply, Place::Board(BoardId(3))] {
        let f = kept.found(place, Check::Demand);
        assert_eq!(f.outcome, Outcome::CannotSay);
        assert!(f.lacking.contains(Lacking::LOADS) && f.value.is_none());
    }
}

/// A load on three lines, behind a larger one of its class on L1 and first on the others, is allowed less on L1 than
/// there. Nothing of that is taken out of the neutral, which has the other loads' current: 20 A of sockets on L1.
#[test]
fn a_load_on_three_lines_takes_nothing_out_of_the_neutral() {
    let mut h = tree();
    h.boards.truncate(2);
    h.circuits.truncate(4);
    h.circuits[2].purpose = Use::Sockets;
    h.circuits[2].phase = Phase::Three;
    h.circuits[2].load.class = LoadClass::Sockets;
    // Line or neutral: 5 m of 10 mm² (1.83 Ω/km), at 70 °C.
    let ohms = 0.005 * 1.83 * 1.2;
    for (three, first, others) in [(5.0, 22.0, 5.0), (10.0, 24.0, 10.0), (30.0, 38.0, 30.0)] {
        h.circuits[2].load.demand = Demand::Current(amps(three));
        let kept = Kept::of(&h, Earthing::TnCS);
        let at = Place::Board(BoardId(1));
        assert_eq!(kept.demand(at), Some([first, others, others]));
        let lines = kept.circuits[0].1.drop_lines.unwrap().full;
        for (volts, amps) in lines.iter().zip([first + 20.0, others, others]) {
            let by_hand = amps * ohms;
            assert!((volts - by_hand).abs() <= 1e-5 * by_hand, "{lines:?}");
        }
    }
}

/// Sockets of 20 A at 1 beside some at 0.3: the larger active part counts in full though the other has more amperes,
/// the larger reactive part too, and 0.4 of the smaller ones.
#[test]
fn a_load_of_a_poor_power_factor_takes_nothing_of_the_drop() {
    let mut h = tree();
    h.boards.truncate(2);
    h.circuits.truncate(4);
    for c in &mut h.circuits[2..4] {
        (c.purpose, c.phase, c.load.class) = (Use::Sockets, Phase::L1, LoadClass::Sockets);
    }
    h.circuits[2].load.power_factor = ratio(0.3);
    // Line and neutral: 5 m of 10 mm² (1.83 Ω/km), at 70 °C, no reactance in the tables.
    let ohms = 2.0 * 0.005 * 1.83 * 1.2;
    for (poor, ib) in [(19.0, 27.6), (20.0, 28.0), (21.0, 29.0), (40.0, 48.0)] {
        h.circuits[2].load.demand = Demand::Current(amps(poor));
        let kept = Kept::of(&h, Earthing::TnCS);
        let at = Place::Board(BoardId(1));
        assert_eq!(kept.demand(at), Some([ib, 0.0, 0.0]));
        let volts = kept.circuits[0].1.drop_lines.unwrap().full[0];
        let by_hand = (20.0 + 0.4 * 0.3 * poor) * ohms;
        assert!((volts - by_hand).abs() <= 1e-5 * by_hand, "{volts}");
    }
}

#[test]
fn a_board_that_hangs_nowhere_may_load_any_other() {
    let mut h = house();
    let ib = |h: &House| {
        let kept = Kept::of(h, Earthing::TnCS);
        let (_, facts) = kept.circuits.iter().find(|(c, _)| c.0 == 0).unwrap();
        (facts.ib, kept.demand(Place::Supply))
    };
    assert_eq!(ib(&h), (Some(12.0), Some([22.0, 0.0, 0.0])));
    h.boards.push(board(Some(9))).unwrap();
    assert_eq!(ib(&h), (None, None));
}

#[test]
fn diversity_is_assumed_unless_every_board_at_the_origin_says_its_demand() {
    let mut h = house();
    for stated in [false, true] {
        h.boards[0].demand = stated.then(|| amps(22.0));
        let f = Kept::of(&h, Earthing::TnCS).found(Place::Supply, Check::Demand);
        assert_eq!(f.assumed.contains(Assumed::DIVERSITY), !stated);
    }
    h.boards.push(board(None)).unwrap();
    h.circuits.push(lamp(2)).unwrap();
    for (first, second) in [(false, false), (true, false), (false, true), (true, true)] {
        h.boards[0].demand = first.then(|| amps(22.0));
        h.boards[2].demand = second.then(|| amps(1.0));
        let kept = Kept::of(&h, Earthing::TnCS);
        let f = kept.found(Place::Supply, Check::Demand);
        assert_eq!(kept.demand(Place::Supply), Some([23.0, 0.0, 0.0]));
        assert_eq!(f.assumed.contains(Assumed::DIVERSITY), !(first && second));
    }
}

/// Of two in series the more sensitive, then the one without delay.
#[test]
fn of_rcds_in_series_the_better_one_is_counted() {
    let all = [
        None,
        Some(rcd(0.03, RcdDelay::None)),
        Some(rcd(0.1, RcdDelay::None)),
        Some(rcd(0.1, RcdDelay::Selective)),
        Some(rcd(0.3, RcdDelay::None)),
        Some(rcd(0.3, RcdDelay::Selective)),
    ];
    // The larger the better.
    let rank = |one: Option<Rcd>| {
        one.map(|r| {
            let quick = i32::from(r.delay() == RcdDelay::None);
            (
                -i32::try_from((r.sensitivity().get() * 1000.0) as i64).unwrap(),
                quick,
            )
        })
    };
    let mut h = house();
    for at_board in all {
        for at_feed in all {
            for in_board in all {
                h.boards[0].rcd = at_board;
                h.circuits[0].rcd = at_feed;
                h.boards[1].rcd = in_board;
                let kept = Kept::of(&h, Earthing::TnCS);
                let (_, source) = kept.fed.iter().find(|(c, _)| c.0 == 2).unwrap();
                let most = [at_board, at_feed, in_board]
                    .into_iter()
                    .max_by_key(|r| rank(*r));
                assert_eq!(source.rcd, most.unwrap());
            }
        }
    }
}

/// All of it passes.
fn good() -> House {
    let mut h = house();
    h.supply.device = Some(breaker(Curve::C, 63.0));
    h
}

#[test]
fn what_is_not_sound_is_no_pass_though_all_that_is_judged_passes() {
    let of = |h: &House| {
        let mut rec = Kept::default();
        let outcome = assess(h, Earthing::TnCS, &mut rec);
        (
            outcome,
            rec.findings.iter().all(|f| f.outcome == Outcome::Pass),
        )
    };
    let mut h = good();
    assert_eq!(of(&h), (Outcome::Pass, true));
    // One board alone.
    let mut one = good();
    one.circuits.remove(0);
    one.circuits.truncate(1);
    one.boards.truncate(1);
    assert_eq!(of(&one), (Outcome::Pass, true));
    // Allowances of a class that there is none of.
    h.profile.diversity[LoadClass::Cooker as usize].first = f32::NAN;
    assert_eq!(of(&h), (Outcome::CannotSay, true));
    // A circuit that is refused, with the board's demand as stated.
    let mut h = good();
    h.boards[0].demand = Some(amps(22.0));
    assert_eq!(of(&h), (Outcome::Pass, true));
    let mut last = h.circuits[1].clone();
    last.sections.clear();
    h.circuits.push(last).unwrap();
    assert_eq!(of(&h), (Outcome::CannotSay, true));
    // Three phases where there is one.
    let mut h = good();
    h.boards[0].demand = Some(amps(22.0));
    h.circuits[1].phase = Phase::Three;
    assert_eq!(of(&h), (Outcome::CannotSay, true));
    // Nothing at all.
    let mut h = good();
    h.boards[0].demand = Some(amps(22.0));
    h.circuits.clear();
    h.boards.truncate(1);
    assert_eq!(of(&h), (Outcome::CannotSay, true));
}

/// In place of bonding the earthing conductor of a TN-C-S supply is as big as bonding where there is metal to bond.
#[test]
fn the_earthing_conductor_of_a_supply_carries_what_bonding_carries() {
    let mut h = good();
    h.supply.tails = Some(mm2(6.0));
    let own = h.supply.earthing_conductor.as_mut().unwrap();
    own.conductor.csa = mm2(6.0);
    for earthing in [Earthing::TnCS, Earthing::TnS] {
        for extraneous in [false, true] {
            h.supply.extraneous = extraneous;
            h.supply.bonding = Some(Conductor {
                material: crate::conductor::Material::Copper,
                csa: mm2(10.0),
            });
            let f = Kept::of(&h, earthing).found(Place::Supply, Check::EarthingConductor);
            // 10 mm² by a neutral of 25, otherwise the 6 mm² of the lines.
            let hoped = if extraneous && earthing == Earthing::TnCS {
                (Some(10.0), Outcome::Fail, Rule::BondingByNeutral)
            } else {
                (Some(6.0), Outcome::Pass, Rule::EarthingByLine)
            };
            assert_eq!((f.limit, f.outcome, f.rule), hoped);
        }
    }
}

/// Buried as deep as its surroundings ask, by the lines, and by bonding: where two ask for the same, the lines are told.
#[test]
fn of_two_rules_that_ask_for_the_same_size_that_of_the_lines_is_told() {
    let mut h = good();
    h.supply.tails = Some(mm2(25.0));
    let own = h.supply.earthing_conductor.as_mut().unwrap();
    // Protected against corrosion only: 16 mm², as by the lines of 16 to 35 mm².
    (own.buried, own.mechanical, own.corrosion) = (true, false, true);
    let rule = |h: &House| {
        let f = Kept::of(h, Earthing::TnCS).found(Place::Supply, Check::EarthingConductor);
        assert_eq!(f.limit, Some(16.0));
        f.rule
    };
    assert_eq!(rule(&h), Rule::EarthingByLine);
    h.supply.tails = Some(mm2(10.0));
    assert_eq!(rule(&h), Rule::EarthingBuried);
    // Bonding by a neutral of 50 mm² asks for 16 mm².
    h.supply.earthing_conductor = good().supply.earthing_conductor;
    h.supply.extraneous = true;
    h.supply.neutral = Some(mm2(50.0));
    assert_eq!(rule(&h), Rule::BondingByNeutral);
    h.supply.tails = Some(mm2(25.0));
    assert_eq!(rule(&h), Rule::EarthingByLine);
}

/// Of two sections that are alike the first is shown.
#[test]
fn the_first_section_that_bonds_as_poorly_is_shown() {
    let mut h = good();
    h.boards[1].extraneous = true;
    let feed = Place::Circuit(CircuitId(0));
    h.circuits[0].sections =
        heapless::Vec::from_slice(&[section(5.0, 10.0), section(9.0, 10.0)]).unwrap();
    let of = |h: &House| {
        let all = Kept::of(h, Earthing::TnCS).findings;
        let f = all.iter().find(|f| f.check == Check::FeedBonding).copied();
        f.unwrap()
    };
    assert_eq!(of(&h).section, Some(0));
    h.circuits[0].sections[1] = section(9.0, 6.0);
    assert_eq!((of(&h).section, of(&h).place == feed), (Some(1), false));
}

/// A device whose curve has no point within what it can break leaves it to the RCD; a loop that is too much for that may
/// still be within the device's.
#[test]
fn where_the_device_says_nothing_the_rcd_may() {
    let mut h = good();
    // Type C of 63 A operates at 630 A, and can break 500.
    let c63 = crate::device::Device::new(crate::device::Family::Breaker(Curve::C), amps(63.0))
        .unwrap()
        .with_breaking(amps(500.0));
    h.circuits[1].device = c63;
    let of = |h: &House| {
        let all = Kept::of(h, Earthing::TnCS);
        all.found(Place::Circuit(CircuitId(1)), Check::Disconnection)
    };
    let f = of(&h);
    assert_eq!((f.outcome, f.lacking), (Outcome::CannotSay, Lacking::CURVE));
    h.circuits[1].rcd = Some(rcd(0.03, RcdDelay::None));
    let f = of(&h);
    assert_eq!((f.outcome, f.rule), (Outcome::Pass, Rule::MaxZsRcd));
    assert_eq!(f.lacking, Lacking::empty());
    // 0.95 · 230 V over the 5 · 1 A it takes within 0.1 s, or fewer: less than 500 Ω.
    h.circuits[1].rcd = Some(rcd(1.0, RcdDelay::None));
    h.supply.ze = crate::quantity::Ohms::new(500.0).ok();
    let f = of(&h);
    assert_eq!((f.outcome, f.lacking), (Outcome::CannotSay, Lacking::CURVE));
    assert_eq!(f.rule, Rule::MaxZsRcd);
}
