//! The words of `reading`.

use super::{by_word, list, rules};
use crate::out::Out;
use crate::readings::{note_name, stop_name};
use faultpath::device::{Rcd, RcdDelay, RcdType};
use faultpath::network::CircuitId;
use faultpath::quantity::Amps;
use faultpath::reading::interval::Function;
use faultpath::reading::ring::{Conductors, Patterns};
use faultpath::reading::sequence::{Before, Note, Step, Stop, When};
use faultpath::reading::{Expected, Lacking, Meaning, QuickRule, Rule, Side, Suspects, Test};
use faultpath::verdict::Outcome;
use faultpath::words::reading_en as en;

/// One of each kind; what they carry says nothing of their words.
const STOPS: [Stop; 7] = [
    Stop::Design(Outcome::CannotSay),
    Stop::Missing(Step::Bonding),
    Stop::NotPassed(Step::Bonding, Outcome::Fail),
    Stop::NotPassed(Step::Bonding, Outcome::CannotSay),
    Stop::GearOut,
    Stop::EarthingOut,
    Stop::Unreadable,
];

fn notes() -> Out {
    let rcd = Amps::new(0.03)
        .and_then(|a| Rcd::new(a, RcdType::A, RcdDelay::None).map_err(|e| e.reason))
        .expect("a size that is made");
    let conductors = Conductors::empty();
    let all = [
        Note::ElectrodeFirst,
        Note::MarkCores {
            section: 0,
            conductors,
        },
        Note::MarkSwitchedLine,
        Note::ArmourAlone { section: 0 },
        Note::ArmourBothEnds,
        Note::ArmourSupplyEnd,
        Note::RcdsTogether {
            upstream: rcd,
            downstream: rcd,
        },
        Note::BorrowedNeutral {
            other: CircuitId(0),
        },
        Note::Gear,
        Note::EarthingBack,
    ];
    let text = |note: &Note| (note_name(note), en::note(note).into());
    Out::Fields(all.iter().map(text).collect())
}

fn expected() -> Out {
    let figure = |one| {
        let (symbol, name) = en::expected(one);
        Out::Fields(vec![("symbol", symbol.into()), ("name", name.into())])
    };
    Out::List(Expected::ALL.map(figure).to_vec())
}

/// By number or by bit, as everywhere.
pub(super) fn words() -> Out {
    Out::Fields(vec![
        ("tests", list(Test::ALL, en::test)),
        ("rules", rules(Rule::ALL, en::rule)),
        ("quick", rules(QuickRule::ALL, en::quick)),
        ("uncertainties", rules(Function::ALL, en::uncertainty)),
        ("meanings", list(Meaning::ALL, en::meaning)),
        ("expected", expected()),
        ("suspects", list(Suspects::all().iter(), en::suspect)),
        ("lacking", list(Lacking::all().iter(), en::lacking)),
        (
            "sides",
            list([Side::Below, Side::Within, Side::Above], en::side),
        ),
        ("patterns", list(Patterns::all().iter(), en::pattern)),
        ("conductors", list(Conductors::all().iter(), en::conductor)),
        ("steps", list(Step::ALL, en::step)),
        (
            "whens",
            list([When::Dead, When::SupplyOnly, When::Live], en::when),
        ),
        ("befores", list(Before::all().iter(), en::before)),
        ("stops", by_word(STOPS, stop_name, en::stop)),
        ("notes", notes()),
    ])
}
