//! What the codes of an answer say, for the page: made at build time from the words of core, one file a language.
//!
//! A list has its texts in the order of the numbers in core, a set in the order of its bits, and what goes by a
//! word has an object by these words.

use crate::answer::{CHECKS, FIGURES, outcome_name};
use crate::choices::choices;
use crate::out::Out;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::read::{Wrong, reason_name};
use faultpath::error::{Field, Reason};
use faultpath::verdict::{Assumed, Lacking, Outcome, Rule, Unit};
use faultpath::words::{self, RuleWords, en};

mod earthing;
mod format_en;
mod reading;

/// The languages there are.
pub const LANGUAGES: [&str; 1] = ["en"];

/// The catalogue of a language; none where there is none.
#[must_use]
pub fn catalogue(language: &str) -> Option<Out> {
    if !LANGUAGES.contains(&language) {
        return None;
    }
    Some(Out::Fields(vec![
        ("language", language.to_owned().into()),
        ("units", list(Unit::ALL, words::unit)),
        ("checks", checks()),
        ("rules", rules(Rule::ALL, words::rule)),
        ("figures", figures()),
        ("lacking", set(&Lacking::all(), words::lacking)),
        ("assumed", set(&Assumed::all(), words::assumed)),
        ("fields", list(Field::ALL, words::field)),
        ("reasons", by_word(Reason::ALL, reason_name, words::reason)),
        ("errors", errors()),
        ("wrong", list(Wrong::ALL, format_en::wrong)),
        ("deep", en::DEEP.into()),
        ("solutions", pairs(&en::SOLUTIONS)),
        ("changes", pairs(&en::CHANGES)),
        ("choices", choices()),
        ("reading", reading::words()),
        ("earthing", earthing::words()),
    ]))
}

/// A text for each number.
fn list<T>(all: impl IntoIterator<Item = T>, say: impl Fn(T) -> &'static str) -> Out {
    Out::List(all.into_iter().map(|one| say(one).into()).collect())
}

/// A text for each bit. The words of a set are in the order of its bits, as tests of core hold.
fn set<S, T, I>(all: &S, say: impl Fn(S) -> I) -> Out
where
    S: Copy,
    I: Iterator<Item = T>,
    T: Said,
{
    Out::List(say(*all).map(|one| one.said().into()).collect())
}

/// A text, by itself or with what it is of.
trait Said {
    fn said(self) -> &'static str;
}
impl Said for &'static str {
    fn said(self) -> &'static str {
        self
    }
}
impl<T> Said for (T, &'static str) {
    fn said(self) -> &'static str {
        self.1
    }
}

/// A text for each word.
fn by_word<T: Copy>(
    all: impl IntoIterator<Item = T>,
    word: impl Fn(T) -> &'static str,
    say: impl Fn(T) -> &'static str,
) -> Out {
    let fields = all.into_iter().map(|one| (word(one), say(one).into()));
    Out::Fields(fields.collect())
}

fn pairs(all: &[(&'static str, &'static str)]) -> Out {
    by_word(all.iter().copied(), |one| one.0, |one| one.1)
}

/// Symbol, name, template and source of each rule.
fn rules<T>(all: impl IntoIterator<Item = T>, say: impl Fn(T) -> RuleWords) -> Out {
    let rule = |one| {
        let rule = say(one);
        Out::Fields(vec![
            ("symbol", rule.symbol.into()),
            ("name", rule.name.into()),
            ("template", rule.template.into()),
            ("source", rule.source.into()),
            ("standing", rule.standing.text().into()),
        ])
    };
    Out::List(all.into_iter().map(rule).collect())
}

/// Where a reason has words of its own at a field.
fn errors() -> Out {
    let mut out = Vec::new();
    for field in Field::ALL {
        for reason in Reason::ALL {
            let text = words::error(reason.at(field));
            if text != words::reason(reason) {
                out.push(Out::Fields(vec![
                    ("field", (field as u8).into()),
                    ("reason", reason_name(reason).into()),
                    ("text", text.into()),
                ]));
            }
        }
    }
    Out::List(out)
}

fn checks() -> Out {
    let check = |(name, check)| {
        let mut fields = vec![("name", words::check(check).into())];
        let outcomes = Outcome::ALL.iter();
        fields.extend(outcomes.map(|o| (outcome_name(*o), words::sentence(check, *o).into())));
        (name, Out::Fields(fields))
    };
    Out::Fields(CHECKS.map(check).to_vec())
}

fn figures() -> Out {
    let figure = |(name, figure)| {
        let (symbol, of_circuit) = words::named(figure, true);
        let fields = vec![
            ("symbol", symbol.into()),
            ("unit", words::unit(figure.unit()).into()),
            ("circuit", of_circuit.into()),
            ("board", words::named(figure, false).1.into()),
        ];
        (name, Out::Fields(fields))
    };
    Out::Fields(FIGURES.map(figure).to_vec())
}

#[cfg(test)]
mod tests {
    use super::*;
    use faultpath::verdict::{Check, Figure};

    fn count(bits: u32, texts: &Out) -> bool {
        // Every bit has its text, and none is left out below it.
        bits.trailing_ones() as usize == texts.items().len()
            && bits.leading_zeros() + bits.trailing_ones() == 32
    }

    #[test]
    fn every_code_is_in_it() {
        let all = catalogue("en").unwrap();
        for check in Check::ALL {
            assert!(CHECKS.iter().any(|(_, one)| *one == check), "{check:?}");
        }
        for figure in Figure::ALL {
            assert!(FIGURES.iter().any(|(_, one)| *one == figure), "{figure:?}");
        }
        for reason in Reason::ALL {
            assert_ne!(reason_name(reason), "refused", "{reason:?}");
        }
        assert!(count(Lacking::all().bits(), all.get("lacking")));
        assert!(count(Assumed::all().bits().into(), all.get("assumed")));
        let rules = all.get("rules").items();
        assert_eq!(rules.len(), Rule::ALL.len());
        assert!(
            Wrong::ALL
                .iter()
                .enumerate()
                .all(|(n, one)| *one as usize == n)
        );
        let at = Rule::MaxZs as usize;
        assert_eq!(rules[at].get("symbol").text(), Some("Zs max"));
        assert_eq!(
            all.get("units").items()[Unit::SquareMm as usize].text(),
            Some("mm²")
        );
        assert_eq!(catalogue("xx"), None);
    }

    #[test]
    fn numbers_of_readings_and_earthing_are_places_in_their_lists() {
        use faultpath::earthing::{
            Formula,
            electrode::Soil,
            options::{Caution, Scheme},
            situations::Situation,
        };
        use faultpath::reading::{self, Meaning, QuickRule, Suspects, Test};
        use faultpath::reading::{
            interval::Function,
            ring::{Conductors, Patterns},
            sequence::{Before, Step},
        };
        macro_rules! in_order {
            ($($list:ident)::+) => {
                assert!(($($list)::+::ALL).iter().enumerate().all(|(n, one)| *one as usize == n), stringify!($($list)::+));
            };
        }
        in_order!(Test);
        in_order!(reading::Rule);
        in_order!(QuickRule);
        in_order!(Meaning);
        in_order!(Function);
        in_order!(Step);
        in_order!(reading::Expected);
        in_order!(Formula);
        in_order!(Scheme);
        in_order!(Soil);
        in_order!(Situation);
        let (reading, earthing) = (super::reading::words(), super::earthing::words());
        assert!(count(
            Suspects::all().bits().into(),
            reading.get("suspects")
        ));
        assert!(count(
            reading::Lacking::all().bits().into(),
            reading.get("lacking")
        ));
        assert!(count(
            Patterns::all().bits().into(),
            reading.get("patterns")
        ));
        assert!(count(
            Conductors::all().bits().into(),
            reading.get("conductors")
        ));
        assert!(count(Before::all().bits().into(), reading.get("befores")));
        assert!(count(Caution::all().bits(), earthing.get("cautions")));
    }
}
