//! What every verdict must be, whatever the installation.

use crate::any::{House, house};
use crate::{Seen, blemish, config, readings, refusals};
use faultpath::assess::{assess, outcome};
use faultpath::device::{Rcd, RcdDelay, RcdType};
use faultpath::network::{BoardEarthing, BoardId, Enclosure};
use faultpath::quantity::Amps;
use faultpath::supply::{Earthing, SupplyEarthing};
use faultpath::verdict::{Assumed, Check, Finding, Outcome, Place, Report, Rule};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use std::collections::BTreeMap;

/// The houses made up are worth judging: every check comes out every way it can, often.
#[test]
fn the_generator_is_fair() {
    let mut runner = TestRunner::deterministic();
    let strategy = house();
    let mut count: BTreeMap<(Check, Outcome), u32> = BTreeMap::new();
    for _ in 0..3000 {
        let house = strategy.new_tree(&mut runner).unwrap().current();
        assert_eq!(refusals(&house), []);
        for earthing in readings(&house) {
            for f in Seen::of(&house, *earthing).1.findings {
                *count.entry((f.check, f.outcome)).or_default() += 1;
            }
        }
    }
    let mut few = false;
    for check in Check::ALL {
        for outcome in [Outcome::Pass, Outcome::Fail, Outcome::CannotSay] {
            // An RCD that is asked for is there or not.
            if (check, outcome) == (Check::Rcd, Outcome::CannotSay) {
                continue;
            }
            let n = count.get(&(check, outcome)).copied().unwrap_or(0);
            println!("{check:?} {outcome:?}: {n}");
            few |= n < 20;
        }
    }
    assert!(!few);
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn each_finding_shows_what_it_says(house in house()) {
        for earthing in readings(&house) {
            for f in Seen::of(&house, *earthing).1.findings {
                prop_assert_eq!(blemish(&f), None);
            }
        }
    }

    #[test]
    fn the_outcome_is_the_worst_of_the_findings(house in house()) {
        for earthing in readings(&house) {
            let (outcome, seen) = Seen::of(&house, *earthing);
            prop_assert_eq!(outcome, seen.worst());
        }
    }

    /// What is refused is left out, and then it is no pass.
    #[test]
    fn what_is_refused_is_no_pass(house in house(), which in any::<prop::sample::Index>(), how in 0..6u8) {
        let mut house: House = house;
        let at = which.index(house.circuits.len());
        let c = &mut house.circuits[at];
        match how {
            0 => c.sections.clear(),
            1 => c.board = faultpath::network::BoardId(99),
            2 => c.load.points = 0,
            3 => c.sections[0].cores = 0,
            4 => c.sections[0].laying.grouped = 0,
            _ => house.boards[0].fed_by = Some(faultpath::network::CircuitId(99)),
        }
        prop_assert!(!refusals(&house).is_empty());
        for earthing in readings(&house) {
            let (outcome, seen) = Seen::of(&house, *earthing);
            prop_assert_eq!(outcome, seen.worst().worse(Outcome::CannotSay));
            for f in &seen.findings {
                prop_assert_eq!(blemish(f), None);
            }
        }
    }

    /// A supply that can't be told is judged both ways; the worse counts. As TN-C-S just as one that is known,
    /// as TT just as one whose Ze is of no use there.
    #[test]
    fn not_known_is_the_worse_of_both(house in house()) {
        let mut house: House = house;
        house.supply.earthing = SupplyEarthing::NotKnown;
        let (tn, as_tn) = Seen::of(&house, Earthing::TnCS);
        let (tt, as_tt) = Seen::of(&house, Earthing::Tt);
        prop_assert_eq!(outcome(&house), tn.worse(tt));
        let mut known = house.clone();
        known.supply.earthing = SupplyEarthing::Known(Earthing::TnCS);
        prop_assert_eq!(outcome(&known), tn);
        prop_assert_eq!(Seen::of(&known, Earthing::TnCS).1, as_tn);
        known.supply.earthing = SupplyEarthing::Known(Earthing::Tt);
        known.supply.ze = None;
        let (_, seen) = Seen::of(&known, Earthing::Tt);
        // But for the fault level, which may be taken from Ze.
        for (one, other) in seen.findings.iter().zip(&as_tt.findings) {
            if matches!(one.check, Check::Disconnection | Check::Electrode) {
                prop_assert_eq!(one, other);
            }
        }
    }

    /// An earth fault at a board on an electrode: judged wherever there is one, and nowhere else; only what is
    /// in front of the board, or a board of class II, makes it pass.
    #[test]
    fn a_fault_at_a_board_is_covered_from_in_front(house in house(), which in any::<prop::sample::Index>()) {
        let mut house: House = house;
        let at = which.index(house.boards.len());
        let id = BoardId(at as u16);
        for earthing in readings(&house) {
            let at_board = |house: &House| -> Option<Finding> {
                let seen = Seen::of(house, *earthing).1;
                seen.findings.into_iter().find(|f| f.check == Check::BoardFault && f.place == Place::Board(id))
            };
            let board = house.boards[at];
            let tt = *earthing == Earthing::Tt && board.fed_by.is_none();
            let own = matches!(board.earthing, BoardEarthing::OwnElectrode(_));
            prop_assert_eq!(at_board(&house).is_some(), tt || own);
            if !tt && !own {
                continue;
            }
            let mut made = |enclosure, rcd| {
                (house.boards[at].enclosure, house.boards[at].rcd) = (enclosure, rcd);
                let f = at_board(&house).unwrap();
                (house.boards[at].enclosure, house.boards[at].rcd) = (board.enclosure, board.rcd);
                f
            };
            let metal = made(Some(Enclosure::Metal), None);
            let unsaid = made(None, None);
            let insulated = made(Some(Enclosure::Insulated), None);
            let small = Rcd::new(Amps::new(0.006).unwrap(), RcdType::A, RcdDelay::None).unwrap();
            // An RCD in it is not in front of it.
            prop_assert_eq!(made(Some(Enclosure::Metal), Some(small)), metal);
            prop_assert_eq!(made(None, Some(small)), unsaid);
            prop_assert_eq!(unsaid.outcome == Outcome::Pass, metal.outcome == Outcome::Pass);
            prop_assert_ne!(unsaid.outcome, Outcome::Fail);
            prop_assert_eq!(insulated.outcome, Outcome::Pass);
            prop_assert_eq!(insulated.assumed.contains(Assumed::INSULATED_FRONT), metal.outcome != Outcome::Pass);
            prop_assert!(metal.outcome != Outcome::Pass || metal.rule != Rule::InsulatedFront);
            // What is behind changes nothing.
            let mut bare = house.clone();
            bare.boards[at].enclosure = Some(Enclosure::Metal);
            for c in bare.circuits.iter_mut().filter(|c| c.board == id) {
                c.rcd = Some(small);
            }
            prop_assert_eq!(at_board(&bare), Some(metal));
            // Nor does it pass without an RCD in front where less flows than the device there carries for ever.
            if let Some(feed) = board.fed_by {
                let feed = usize::from(feed.0);
                let mut without = house.clone();
                without.boards[at].enclosure = Some(Enclosure::Metal);
                for b in &mut without.boards {
                    b.rcd = None;
                }
                for c in &mut without.circuits {
                    c.rcd = None;
                }
                let device = without.circuits[feed].device;
                if device.family().has_rcd() {
                    continue;
                }
                // An RCBO upstream without its RCD is refused, and nothing said of the board.
                let Some(f) = at_board(&without) else { continue };
                let most = f.value.map(|zs| house.profile.cmin * house.supply.u0.get() / zs);
                prop_assert!(f.outcome != Outcome::Pass || most.is_some_and(|i| i > device.rating().get()));
                // With 6 mA at the start of the feed, and an electrode that lets it work, it does.
                let mut with = without.clone();
                with.circuits[feed].rcd = Some(small);
                with.boards[at].earthing = BoardEarthing::OwnElectrode(faultpath::quantity::Ohms::new(100.0).ok());
                prop_assert_eq!(at_board(&with).map(|f| f.outcome), Some(Outcome::Pass));
            }
        }
    }

    /// A report too small for all findings keeps the first ones and the worst outcome.
    #[test]
    fn a_report_that_overflows_keeps_the_worst(house in house()) {
        for earthing in readings(&house) {
            let mut all = Report::<512>::default();
            let mut few = Report::<3>::default();
            let mut none = Report::<0>::default();
            let outcome = assess(&house, *earthing, &mut all);
            prop_assert_eq!(all.dropped, 0);
            prop_assert_eq!(all.outcome, outcome);
            prop_assert_eq!(assess(&house, *earthing, &mut few), outcome);
            prop_assert_eq!(assess(&house, *earthing, &mut none), outcome);
            prop_assert_eq!(few.outcome, all.outcome);
            prop_assert_eq!(none.outcome, all.outcome);
            prop_assert_eq!(few.dropped as usize + few.findings.len(), all.findings.len());
            prop_assert_eq!(none.dropped as usize, all.findings.len());
            prop_assert!(few.findings.iter().eq(all.findings.iter().take(3)));
        }
    }

    #[test]
    fn twice_is_the_same(house in house()) {
        for earthing in readings(&house) {
            prop_assert_eq!(Seen::of(&house, *earthing), Seen::of(&house, *earthing));
        }
    }
}
