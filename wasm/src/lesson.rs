//! A set of exercises: what is asked, what an entry is told, and the sheet of answers. Words are the page's.

use crate::answer::{name_in, named, shown};
use crate::names;
use crate::out::Out;
#[cfg(target_os = "none")]
use crate::prelude::*;
use faultpath::lesson::{By, Exercise, Formula, Given, Kind, Line, Slips, Told, exercise};
use faultpath::verdict::Unit;
use faultpath::words::Rounding;

/// Kinds by the name they have in a link.
pub const KINDS: [(&str, Kind); 13] = [
    ("r1r2", Kind::R1R2),
    ("ring-r1r2", Kind::RingR1R2),
    ("zs", Kind::Zs),
    ("max-zs", Kind::MaxZs),
    ("fault-current", Kind::FaultCurrent),
    ("drop-radial", Kind::DropRadial),
    ("drop-spread", Kind::DropSpread),
    ("drop-ring", Kind::DropRing),
    ("adiabatic", Kind::Adiabatic),
    ("capacity", Kind::Capacity),
    ("tabulated", Kind::Tabulated),
    ("design-current", Kind::DesignCurrent),
    ("touch-voltage", Kind::TouchVoltage),
];

/// Figures that are given by name.
pub const GIVEN: [(&str, Given); 28] = [
    ("line", Given::Line),
    ("protective", Given::Protective),
    ("line-per-km", Given::LinePerKm),
    ("protective-per-km", Given::ProtectivePerKm),
    ("length", Given::Length),
    ("ring-length", Given::RingLength),
    ("ze", Given::Ze),
    ("r1r2", Given::R1R2),
    ("service", Given::Service),
    ("factor", Given::Factor),
    ("u0", Given::U0),
    ("cmin", Given::Cmin),
    ("rating", Given::Rating),
    ("time", Given::Time),
    ("ia", Given::Ia),
    ("zs", Given::Zs),
    ("ib", Given::Ib),
    ("millivolts", Given::MilliVolts),
    ("points", Given::Points),
    ("if", Given::If),
    ("k", Given::K),
    ("it", Given::It),
    ("ca", Given::Ca),
    ("cg", Given::Cg),
    ("power", Given::Power),
    ("power-factor", Given::PowerFactor),
    ("ra", Given::Ra),
    ("residual", Given::Residual),
];

/// Slips by name, in the order of their bits.
pub const SLIPS: [(&str, Slips); 26] = [
    ("thousand", Slips::THOUSAND),
    ("thousandth", Slips::THOUSANDTH),
    ("hot", Slips::HOT),
    ("cold", Slips::COLD),
    ("no-cmin", Slips::NO_CMIN),
    ("line-to-line", Slips::LINE_TO_LINE),
    ("line-only", Slips::LINE_ONLY),
    ("twice", Slips::TWICE),
    ("one-way", Slips::ONE_WAY),
    ("not-quartered", Slips::NOT_QUARTERED),
    ("halved", Slips::HALVED),
    ("no-ze", Slips::NO_ZE),
    ("hot-ze", Slips::HOT_ZE),
    ("rating", Slips::RATING),
    ("at-end", Slips::AT_END),
    ("mean", Slips::MEAN),
    ("no-root", Slips::NO_ROOT),
    ("no-square", Slips::NO_SQUARE),
    ("no-time", Slips::NO_TIME),
    ("no-ca", Slips::NO_CA),
    ("no-cg", Slips::NO_CG),
    ("divided", Slips::DIVIDED),
    ("multiplied", Slips::MULTIPLIED),
    ("no-power-factor", Slips::NO_POWER_FACTOR),
    ("times-power-factor", Slips::TIMES_POWER_FACTOR),
    ("five-times", Slips::FIVE_TIMES),
];

/// Formulas of the lesson by name.
pub const FORMULAS: [(&str, Formula); 14] = [
    ("cold", Formula::Cold),
    ("sum", Formula::Sum),
    ("quarter", Formula::Quarter),
    ("hot", Formula::Hot),
    ("loop", Formula::Loop),
    ("table", Formula::Table),
    ("spread", Formula::Spread),
    ("spread-drop", Formula::SpreadDrop),
    ("ring-drop", Formula::RingDrop),
    ("size", Formula::Size),
    ("capacity", Formula::Capacity),
    ("tabulated", Formula::Tabulated),
    ("power", Formula::Power),
    ("touch", Formula::Touch),
];

/// Most exercises in a set.
pub const MOST: u32 = 60;

/// The exercise of a set at a number: its kinds in turn.
fn nth(seed: u32, learner: u32, kinds: &[Kind], number: u32) -> Option<Exercise> {
    let count = u32::try_from(kinds.len()).ok().filter(|n| *n > 0)?;
    let kind = kinds.get(usize::try_from(number % count).ok()?)?;
    Some(exercise(*kind, seed, learner, number))
}

/// Kinds named in a link, parted by points; those nobody knows are left out.
#[must_use]
pub fn kinds(text: &str) -> Vec<Kind> {
    text.split('.').filter_map(|n| named(&KINDS, n)).collect()
}

fn number(value: f32, unit: Unit) -> Out {
    shown(Some(value), unit, Rounding::Nearest)
}

fn asked(x: &Exercise) -> Vec<(&'static str, Out)> {
    let given = |(what, value): &(Given, f32)| {
        Out::Fields(vec![
            ("given", name_in(&GIVEN, *what).into()),
            ("unit", (what.unit() as u8).into()),
            ("shown", number(*value, what.unit())),
        ])
    };
    vec![
        ("kind", name_in(&KINDS, x.kind).into()),
        (
            "family",
            x.device.map(|d| names::FAMILIES.name_of(d.family())).into(),
        ),
        ("unit", (x.unit as u8).into()),
        ("given", Out::List(x.given.iter().map(given).collect())),
    ]
}

/// What is asked in a set, without the answers.
#[must_use]
pub fn questions(seed: u32, learner: u32, kinds: &[Kind], count: u32) -> Out {
    let all = (0..count.min(MOST)).filter_map(|n| nth(seed, learner, kinds, n));
    Out::List(all.map(|x| Out::Fields(asked(&x))).collect())
}

fn slips(of: Slips) -> Out {
    Out::List(of.iter().map(|one| name_in(&SLIPS, one).into()).collect())
}

/// What an entry is told.
#[must_use]
pub fn told(seed: u32, learner: u32, kinds: &[Kind], n: u32, entered: f32) -> Out {
    let Some(x) = nth(seed, learner, kinds, n) else {
        return Out::Null;
    };
    let (word, of) = match x.judge(entered) {
        Told::Right => ("right", Slips::empty()),
        Told::Rounded => ("rounded", Slips::empty()),
        Told::Slips(of) => ("slip", of),
        Told::Wrong => ("wrong", Slips::empty()),
    };
    Out::Fields(vec![("told", word.into()), ("slips", slips(of))])
}

fn line(l: &Line) -> Out {
    let (rule, formula) = match l.by {
        By::Rule(rule) => (Some(rule as u8), None),
        By::Formula(formula) => (None, Some(name_in(&FORMULAS, formula))),
    };
    let operands = l.operands.iter().map(|v| number(*v, Unit::Factor));
    Out::Fields(vec![
        ("rule", rule.into()),
        ("formula", formula.into()),
        ("operands", Out::List(operands.collect())),
        ("unit", (l.unit as u8).into()),
        ("shown", number(l.value, l.unit)),
    ])
}

/// The answers of a set, with the working and what each slip comes to.
#[must_use]
pub fn answers(seed: u32, learner: u32, kinds: &[Kind], count: u32) -> Out {
    let all = (0..count.min(MOST)).filter_map(|n| nth(seed, learner, kinds, n));
    let answer = |x: Exercise| {
        let mut fields = asked(&x);
        let slip = |(slip, value): &(Slips, f32)| {
            Out::Fields(vec![
                ("slip", name_in(&SLIPS, *slip).into()),
                ("shown", number(*value, x.unit)),
            ])
        };
        fields.extend([
            ("answer", x.answer.into()),
            ("shown", number(x.answer, x.unit)),
            ("slips", Out::List(x.slips.iter().map(slip).collect())),
            ("working", Out::List(x.working.iter().map(line).collect())),
        ]);
        Out::Fields(fields)
    };
    Out::List(all.map(answer).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_has_a_name() {
        assert!(Kind::ALL.iter().all(|k| !name_in(&KINDS, *k).is_empty()));
        assert!(Given::ALL.iter().all(|g| !name_in(&GIVEN, *g).is_empty()));
        assert!(
            Formula::ALL
                .iter()
                .all(|f| !name_in(&FORMULAS, *f).is_empty())
        );
        assert!(Slips::all().iter().all(|s| !name_in(&SLIPS, s).is_empty()));
    }
}
