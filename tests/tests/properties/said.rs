//! What is said beside a finding, lacking and taken for granted, is what the installation says: told anew from the
//! installation and the figures, by a way of its own.

use crate::any::{House, house};
use crate::{Seen, config, readings};
use faultpath::cable::capacity;
use faultpath::device::Rcd;
use faultpath::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Part, Phase, Shape, Use,
};
use faultpath::supply::{Earthing, FaultLevel, Origin, Phases, SupplyEarthing};
use faultpath::verdict::{Assumed, Check, Finding, Lacking, Outcome, Place, Rule};
use proptest::prelude::*;

/// The installation, one of its systems, and the figures.
struct Of<'a> {
    house: &'a House,
    earthing: Earthing,
    seen: &'a Seen,
}

/// The flags where that holds, else none.
fn when<F: FromIterator<F>>(holds: bool, flags: F) -> F {
    holds.then_some(flags).into_iter().collect()
}

impl Of<'_> {
    fn board(&self, id: BoardId) -> &Board {
        self.house.board(id).unwrap()
    }
    fn circuit(&self, id: CircuitId) -> &Circuit {
        self.house.circuit(id).unwrap()
    }
    fn unprotected(&self, id: CircuitId) -> bool {
        self.seen.circuits[&id.0].protective.is_none()
    }

    /// From a board to the origin: each board with the feed it hangs on.
    fn way(&self, from: BoardId) -> Vec<(&Board, Option<CircuitId>)> {
        let mut all = Vec::new();
        let mut next = Some(from);
        while let Some(id) = next {
            let board = self.board(id);
            all.push((board, board.fed_by));
            next = board.fed_by.map(|f| self.circuit(f).board);
        }
        all
    }

    /// The RCDs a circuit of this board is behind, without its own.
    fn upstream(&self, from: BoardId) -> Vec<Rcd> {
        let way = self.way(from);
        let own = way.iter().filter_map(|(b, _)| b.rcd);
        let feeds = way.iter().filter_map(|(_, f)| self.circuit((*f)?).rcd);
        own.chain(feeds).collect()
    }

    /// Earthing, and what the loop up to a board lacks and takes for granted.
    fn loop_at(&self, from: BoardId) -> (Earthing, Lacking, Assumed) {
        let mut broken = Lacking::empty();
        for (board, feed) in self.way(from) {
            if let BoardEarthing::OwnElectrode(ra) = board.earthing {
                let (lacking, assumed) = match ra {
                    Some(_) => (Lacking::empty(), Assumed::SOURCE_ELECTRODE),
                    None => (Lacking::RA, Assumed::empty()),
                };
                return (Earthing::Tt, lacking | broken, assumed);
            }
            broken |= when(
                feed.is_some_and(|f| self.unprotected(f)),
                Lacking::PROTECTIVE,
            );
        }
        let (lacking, assumed) = self.origin();
        (self.earthing, lacking | broken, assumed)
    }

    fn origin(&self) -> (Lacking, Assumed) {
        let s = &self.house.supply;
        if self.earthing != Earthing::Tt {
            let there = s.ze.is_some();
            let declared = when(
                there && s.ze_origin != Origin::Measured,
                Assumed::ZE_NOT_MEASURED,
            );
            let angle = when(there && s.x_over_r.is_none(), Assumed::SUPPLY_ANGLE);
            return (when(!there, Lacking::ZE), declared | angle);
        }
        let measured = s.ze.is_some() && s.earthing == SupplyEarthing::Known(Earthing::Tt);
        match (s.ra.is_some(), measured) {
            (true, true) => (Lacking::empty(), Assumed::empty()),
            (true, false) => (Lacking::empty(), Assumed::SOURCE_ELECTRODE),
            (false, true) => (Lacking::empty(), Assumed::RA_FROM_LOOP),
            (false, false) => (Lacking::RA, Assumed::empty()),
        }
    }

    /// What the largest current lacks and takes for granted.
    fn largest(&self) -> (Lacking, Assumed) {
        let s = &self.house.supply;
        let measured = s.ze.is_some() && s.ze_origin == Origin::Measured;
        let (known, more) = match s.fault_level {
            FaultLevel::Stated(_, Origin::Measured) => (true, Assumed::empty()),
            FaultLevel::Stated(..) => (true, Assumed::FAULT_LEVEL_NOT_MEASURED),
            FaultLevel::FromZe if self.earthing == Earthing::TnCS && measured => {
                (true, when(s.phases == Phases::Three, Assumed::DOUBLED))
            }
            FaultLevel::FromZe | FaultLevel::NotKnown => (false, Assumed::empty()),
        };
        let angle = when(known && s.x_over_r.is_none(), Assumed::SUPPLY_ANGLE);
        (when(!known, Lacking::FAULT_LEVEL), more | angle)
    }

    /// What has to be said of a finding at a circuit: lacking, or where several ways lead there what is sure to be
    /// and what may be besides; and taken for granted.
    fn of_circuit(&self, id: CircuitId, f: &Finding) -> (Lacking, Lacking, Assumed) {
        let c = self.circuit(id);
        let facts = &self.seen.circuits[&id.0];
        let (earthing, lacking_loop, assumed_loop) = self.loop_at(c.board);
        let (lacking_max, assumed_max) = self.largest();
        let upstream = when(
            c.rcd.is_none() && !self.upstream(c.board).is_empty(),
            Assumed::RCD_UPSTREAM,
        );
        let none = (Lacking::empty(), Assumed::empty());
        let exactly = |(lacking, assumed)| (lacking, Lacking::empty(), assumed);
        let short = f.outcome == Outcome::CannotSay;
        match f.check {
            Check::DesignCurrent => exactly(match (facts.ib, c.purpose) {
                (Some(_), _) => none,
                (None, Use::Distribution) => (Lacking::LOADS, none.1),
                (None, _) => (Lacking::LOAD, none.1),
            }),
            Check::Capacity | Check::Overload => {
                let counted = c.sections.iter().filter(|s| {
                    f.check == Check::Capacity || s.part == Part::Run || s.spur_fuse.is_none()
                });
                let unknown = counted.filter(|s| {
                    let loaded = if c.phase == Phase::Three { 3 } else { 2 };
                    capacity(
                        s.material,
                        s.csa,
                        s.insulation,
                        s.operating_limit,
                        s.construction,
                        loaded,
                        &s.laying,
                    )
                    .is_err()
                });
                exactly((when(unknown.count() > 0, Lacking::CAPACITY), none.1))
            }
            Check::VoltDrop => {
                let balanced = c.phase == Phase::Three
                    && matches!(c.load.demand, Demand::Current(_) | Demand::Power(_));
                let lacking = match (facts.drop, facts.ib) {
                    (Some(_), _) => Lacking::empty(),
                    (None, None) => Lacking::LOAD,
                    (None, Some(_)) => Lacking::UPSTREAM,
                };
                exactly((lacking, when(balanced, Assumed::BALANCED)))
            }
            Check::Disconnection => {
                let by_rcd = f.rule == Rule::MaxZsRcd && facts.zs.is_some();
                let assumed = assumed_loop | when(by_rcd, upstream);
                let lacking = match facts.zs {
                    Some(_) => when(short, Lacking::CURVE),
                    None => lacking_loop | when(self.unprotected(id), Lacking::PROTECTIVE),
                };
                exactly((lacking, assumed))
            }
            Check::Electrode => {
                let ra = lacking_loop.contains(Lacking::RA);
                let bare = when(!ra && self.unprotected(id), Lacking::PROTECTIVE);
                let assumed = upstream | (assumed_loop & Assumed::RA_FROM_LOOP);
                exactly((when(ra, Lacking::RA) | bare, assumed))
            }
            Check::ProtectiveThermal => {
                let assumed = assumed_loop | assumed_max;
                if self.unprotected(id) {
                    return (Lacking::PROTECTIVE, Lacking::empty(), assumed);
                }
                let no_largest = if earthing == Earthing::Tt {
                    lacking_loop.contains(Lacking::RA)
                } else {
                    !lacking_max.is_empty()
                } || lacking_loop.contains(Lacking::PROTECTIVE);
                let sure = when(short && facts.zs.is_none(), lacking_loop)
                    | when(short && no_largest, lacking_max | lacking_loop);
                let may = Lacking::PROTECTIVE_AREA
                    | Lacking::LET_THROUGH
                    | Lacking::CAPACITY
                    | when(short && facts.zs.is_some(), Lacking::CURVE);
                (sure, may, assumed)
            }
            Check::LineThermal => {
                let sure = when(short, lacking_max);
                let may = when(
                    f.outcome != Outcome::Pass,
                    Lacking::LET_THROUGH | lacking_max,
                );
                (sure, may, assumed_max)
            }
            Check::Breaking => {
                let other = self.board(c.board).conditional;
                let counted = match (c.device.breaking(), other) {
                    (Some(own), Some(other)) => other.get() > own.get(),
                    (None, Some(_)) => true,
                    _ => false,
                };
                let unrated = c.device.breaking().is_none() && other.is_none();
                let lacking = when(unrated, Lacking::BREAKING) | lacking_max;
                exactly((
                    lacking,
                    assumed_max | when(counted, Assumed::CONDITIONAL_RATING),
                ))
            }
            Check::Rcd => exactly(match f.value {
                Some(_) => (Lacking::empty(), upstream),
                None => (Lacking::RCD, none.1),
            }),
            other => panic!("{other:?} of a circuit"),
        }
    }

    /// The same of a board or the supply.
    fn of_board(&self, id: Option<BoardId>, f: &Finding) -> (Lacking, Lacking, Assumed) {
        let supply = &self.house.supply;
        let board = id.map(|id| self.board(id));
        let feed = board.and_then(|b| b.fed_by);
        let facts = self.seen.boards.iter().find(|(p, _)| *p == f.place);
        let facts = facts.unwrap().1;
        let line = match feed {
            Some(feed) => self.circuit(feed).sections.last().map(|s| s.csa),
            None => supply.tails,
        };
        let (earthing, lacking_loop, assumed_loop) = match id {
            Some(id) => self.loop_at(id),
            None => (self.earthing, self.origin().0, self.origin().1),
        };
        let size = if earthing == Earthing::TnCS {
            when(supply.neutral.is_none(), Lacking::NEUTRAL)
        } else {
            when(line.is_none(), Lacking::TAILS)
        };
        let exactly = |(lacking, assumed)| (lacking, Lacking::empty(), assumed);
        match f.check {
            Check::Demand => {
                let stated = match board {
                    Some(b) => b.demand.is_some(),
                    None => {
                        let first = self.house.boards().filter(|(_, b)| b.fed_by.is_none());
                        first.map(|(_, b)| b).all(|b| b.demand.is_some())
                    }
                };
                let device = feed.is_some() || supply.device.is_some();
                let lacking =
                    when(facts.demand.is_none(), Lacking::LOADS) | when(!device, Lacking::INCOMING);
                exactly((lacking, when(!stated, Assumed::DIVERSITY)))
            }
            Check::Breaking => {
                let (lacking, assumed) = self.largest();
                let rated = supply.device.is_some_and(|d| d.breaking().is_some());
                exactly((lacking | when(!rated, Lacking::BREAKING), assumed))
            }
            Check::Bonding => {
                let given = board.map_or(supply.bonding, |b| b.bonding);
                let lacking = size | when(given.is_none(), Lacking::BONDING);
                exactly((lacking, Assumed::empty()))
            }
            Check::EarthingConductor => {
                let given = board.map_or(supply.earthing_conductor, |b| b.earthing_conductor);
                let may = when(given.is_some(), Lacking::TAILS | Lacking::LIMIT);
                let sure = when(given.is_none(), Lacking::EARTHING_CONDUCTOR);
                (sure, may, Assumed::empty())
            }
            Check::FeedBonding => {
                let bare = feed.is_some_and(|f| self.unprotected(f));
                let lacking = if size.is_empty() {
                    when(bare, Lacking::PROTECTIVE)
                } else {
                    size
                };
                exactly((lacking, Assumed::empty()))
            }
            Check::BoardFault => {
                let board = board.unwrap();
                let front = f.assumed.contains(Assumed::INSULATED_FRONT);
                let mut assumed = when(front, Assumed::INSULATED_FRONT);
                if f.rule != Rule::InsulatedFront {
                    assumed |= assumed_loop;
                    assumed |= when(!front && f.rule != Rule::BoardMaxZs, Assumed::RCD_UPSTREAM);
                }
                let unsaid = f.outcome != Outcome::Pass && board.enclosure.is_none();
                let sure = when(unsaid, Lacking::ENCLOSURE)
                    | when(
                        facts.zs.is_none() && f.rule != Rule::InsulatedFront,
                        lacking_loop,
                    );
                let may = when(
                    f.outcome != Outcome::Pass,
                    Lacking::CURVE | Lacking::INCOMING,
                );
                (sure, may, assumed)
            }
            other => panic!("{other:?} of a board"),
        }
    }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn what_is_said_beside_a_finding_is_so(house in house()) {
        for earthing in readings(&house) {
            let seen = Seen::of(&house, *earthing).1;
            let of = Of { house: &house, earthing: *earthing, seen: &seen };
            for f in &seen.findings {
                let (sure, may, assumed) = match f.place {
                    Place::Circuit(id) => of.of_circuit(id, f),
                    Place::Board(id) => of.of_board(Some(id), f),
                    Place::Supply => of.of_board(None, f),
                };
                prop_assert_eq!(f.assumed, assumed, "{:?}", f);
                prop_assert!(f.lacking.contains(sure), "{:?} and not {:?}", sure, f);
                prop_assert!((sure | may).contains(f.lacking), "{:?}, {:?} and not {:?}", sure, may, f);
            }
            // Each check there is, and none twice.
            for (id, c) in house.circuits() {
                let of = |check| {
                    let here = |f: &&Finding| f.place == Place::Circuit(id) && f.check == check;
                    seen.findings.iter().filter(here).count()
                };
                for check in [Check::DesignCurrent, Check::Capacity, Check::Disconnection,
                    Check::ProtectiveThermal, Check::LineThermal, Check::Breaking] {
                    prop_assert_eq!(of(check), 1);
                }
                prop_assert_eq!(of(Check::Overload), usize::from(c.shape != Shape::Ring));
                prop_assert_eq!(of(Check::VoltDrop), usize::from(c.purpose != Use::Distribution));
            }
        }
    }
}
