//! Whether an answer agrees with what a row of `vectors/` expects: figures by [`faultpath::evidence`], words where
//! they are the same.

use super::{Reply, ask_of};
use crate::answer::answer;
use crate::out::Out;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::read;
use crate::value::Value;
use faultpath::evidence as figures;
pub use faultpath::evidence::Tolerance;

/// What a row expects.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Expected<'a> {
    /// A figure.
    Number(f64),
    /// An outcome, `not-known`, or the reason of a refusal.
    Word(&'a str),
}

/// An answer held against its row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held<'a> {
    /// What came; none where it was neither a figure nor a word.
    pub got: Option<Expected<'a>>,
    /// Whether it agrees.
    pub agrees: bool,
    /// What came less what was expected; figures only.
    pub off: Option<f64>,
    /// The same without its sign, in units of the tolerance: 0 to 1 where it agrees.
    pub share: Option<f64>,
}

/// Holds an answer against what is expected. What is no number agrees with nothing.
#[must_use]
pub fn held<'a>(reply: &'a Reply, expected: &Expected<'_>, tolerance: Tolerance) -> Held<'a> {
    let got = match reply {
        Reply::Number { value } => Some(Expected::Number(f64::from(*value))),
        Reply::Word { value } => Some(Expected::Word(value)),
        Reply::Error { error } => Some(Expected::Word(error)),
        Reply::Answer { .. } | Reply::Errors { .. } => None,
    };
    let (agrees, off, share) = match (expected, reply, got) {
        (Expected::Number(expected), Reply::Number { value }, _) => {
            let held = figures::held(*value, *expected, tolerance);
            (held.agrees, Some(held.off), Some(held.share))
        }
        (Expected::Word(expected), _, Some(Expected::Word(word))) => {
            (*expected == word, None, None)
        }
        _ => (false, None, None),
    };
    Held {
        got,
        agrees,
        off,
        share,
    }
}

/// Answers rows of one job, or of none, and holds each against what it expects.
///
/// A row is `{ask, inputs, expect, abs}` or `{…, rel}`, as in a file of `vectors/`; an input `job` stands for the
/// `job` given. Of each comes `{agrees, got, off, share}`, as in [`Held`]. A row that is none agrees with nothing.
#[must_use]
pub fn rows(rows: &Value, job: &Value) -> Out {
    let Value::List(rows) = rows else {
        return Out::List(Vec::new());
    };
    // Judged once for all questions of it.
    let answered = matches!(job, Value::Map(_)).then(|| answer(read::read(job)));
    let all = rows.iter().map(|row| {
        let ask = row.get("ask");
        let mut inputs = row.get("inputs").clone();
        // With something put into it the job is another, and is judged for itself.
        let as_it_is = ask.text() == Some("job") && inputs.get("with") == &Value::Null;
        if let (Value::Map(inputs), false) = (&mut inputs, as_it_is) {
            for (_, value) in inputs.iter_mut().filter(|(key, _)| key == "job") {
                *value = job.clone();
            }
        }
        let question = Value::Map(vec![
            ("ask".to_owned(), ask.clone()),
            ("inputs".to_owned(), inputs),
        ]);
        let reply = ask_of(&question, answered.as_ref());
        out(&reply, row)
    });
    Out::List(all.collect())
}

#[allow(clippy::cast_possible_truncation)]
fn out(reply: &Reply, row: &Value) -> Out {
    let expected = match row.get("expect") {
        Value::Number(v) => Expected::Number(*v),
        Value::Text(word) => Expected::Word(word),
        _ => Expected::Number(f64::NAN),
    };
    let tolerance = match (row.get("abs"), row.get("rel")) {
        (Value::Number(abs), Value::Null) => Tolerance::Abs(*abs),
        (Value::Null, Value::Number(rel)) => Tolerance::Rel(*rel),
        _ => Tolerance::Abs(f64::NAN),
    };
    let held = held(reply, &expected, tolerance);
    // Shown only: nothing is decided by them.
    let figure = |v: Option<f64>| Out::from(v.map(|v| v as f32).filter(|v| v.is_finite()));
    Out::Fields(vec![
        ("agrees", Out::Bool(held.agrees)),
        (
            "got",
            match held.got {
                Some(Expected::Number(v)) => figure(Some(v)),
                Some(Expected::Word(word)) => word.to_owned().into(),
                None => Out::Null,
            },
        ),
        ("off", figure(held.off)),
        ("share", figure(held.share)),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_is_no_word() {
        let number = Reply::Number { value: 1.0 };
        let word = Reply::Word {
            value: "1".to_owned(),
        };
        let all = Tolerance::Abs(1.0);
        assert!(held(&word, &Expected::Word("1"), all).agrees);
        assert!(!held(&word, &Expected::Word("2"), all).agrees);
        assert!(!held(&word, &Expected::Number(1.0), all).agrees);
        assert!(!held(&number, &Expected::Word("1"), all).agrees);
        assert!(held(&number, &Expected::Number(1.5), all).agrees);
        assert!(!held(&number, &Expected::Number(f64::NAN), all).agrees);
    }

    fn row(rest: &str) -> Value {
        let k = r#""ask":"k","inputs":{"material":"copper","initial":70,"final":160}"#;
        serde_json::from_str(&format!("[{{{k},{rest}}}]")).expect("a row")
    }

    #[test]
    fn a_row_that_lacks_its_tolerance_agrees_with_nothing() {
        for (rest, agrees) in [
            (r#""expect":115,"abs":0.5"#, true),
            (r#""expect":115,"rel":0.01"#, true),
            (r#""expect":115"#, false),
            (r#""expect":115,"abs":0.5,"rel":0.01"#, false),
            (r#""abs":500"#, false),
            (r#""expect":"115","abs":0.5"#, false),
        ] {
            let out = rows(&row(rest), &Value::Null);
            let [one] = out.items() else {
                panic!("{out:?}")
            };
            assert_eq!(one.get("agrees"), &Out::Bool(agrees), "{rest}");
        }
    }
}
