//! The words of `earthing`.

use super::{list, rules};
use crate::out::Out;
use faultpath::earthing::Formula;
use faultpath::earthing::electrode::Soil;
use faultpath::earthing::options::{Caution, Scheme, Selective};
use faultpath::earthing::situations::{Situation, Stance};
use faultpath::words::earthing_en as en;

fn situations() -> Out {
    let situation = |one| {
        let words = en::situation(one);
        Out::Fields(vec![
            ("name", words.name.into()),
            ("why", words.why.into()),
            ("source", words.source.into()),
            ("standing", words.standing.text().into()),
        ])
    };
    Out::List(Situation::ALL.map(situation).to_vec())
}

/// By number or by bit, as everywhere.
pub(super) fn words() -> Out {
    Out::Fields(vec![
        ("formulas", rules(Formula::ALL, en::formula)),
        ("schemes", list(Scheme::ALL, en::scheme)),
        (
            "selective",
            list(
                [Selective::NothingBehind, Selective::Yes, Selective::No],
                en::selective,
            ),
        ),
        ("cautions", list(Caution::all().iter(), en::caution)),
        ("soils", list(Soil::ALL, en::soil)),
        (
            "stances",
            list(
                [Stance::Ask, Stance::Doubtful, Stance::NotAllowed],
                en::stance,
            ),
        ),
        ("situations", situations()),
    ])
}
