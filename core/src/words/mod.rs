//! Words: names, formulas in symbols, sources, sentences. The only place that has them; feature `words`.
//!
//! English. Another language is another file beside [`en`].
//!
//! ```
//! use faultpath::{verdict::Rule, words};
//! let line = words::rule(Rule::MaxZs);
//! let mut out = String::new();
//! words::formula(&mut out, &line).unwrap();
//! assert_eq!(out, "cmin · U0 / Ia");
//! ```

pub mod en;

use crate::error::{Field, Reason};
use crate::verdict::{Assumed, Check, Lacking, Outcome, Rule, Step, Unit};
use core::fmt::{self, Write};

/// How far a formula or table can be relied on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Its print was read.
    Published,
    /// A rule of thumb of the trade.
    CommonPractice,
    /// Remembered; supported a second way where `vectors` says so.
    FromMemory,
    /// The project's own reasoning.
    Own,
}

impl Standing {
    /// As it is written.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Standing::Published => "published",
            Standing::CommonPractice => "common practice",
            Standing::FromMemory => "from memory",
            Standing::Own => "own",
        }
    }
}

/// What is said of a rule.
#[derive(Clone, Copy, Debug)]
pub struct RuleWords {
    /// Symbol of what comes out.
    pub symbol: &'static str,
    /// Its name.
    pub name: &'static str,
    /// The right-hand side: `{0:Ze}` is operand 0, written Ze.
    pub template: &'static str,
    /// Document and place.
    pub source: &'static str,
    /// How far it can be relied on.
    pub standing: Standing,
}

/// The words of a rule.
#[must_use]
pub const fn rule(rule: Rule) -> RuleWords {
    en::rule(rule)
}

/// Walks a template, handing out its plain text and its operands.
fn walk<W: Write>(
    out: &mut W,
    template: &str,
    mut operand: impl FnMut(&mut W, usize, &str) -> fmt::Result,
) -> fmt::Result {
    let mut rest = template;
    while let Some((plain, after)) = rest.split_once('{') {
        out.write_str(plain)?;
        let Some((inside, further)) = after.split_once('}') else {
            return Ok(());
        };
        if let Some((index, symbol)) = inside.split_once(':') {
            operand(out, index.parse().unwrap_or(usize::MAX), symbol)?;
        }
        rest = further;
    }
    out.write_str(rest)
}

/// Writes the formula in symbols.
///
/// # Errors
/// Those of the writer.
pub fn formula<W: Write>(out: &mut W, words: &RuleWords) -> fmt::Result {
    walk(out, words.template, |out, _, symbol| out.write_str(symbol))
}

/// Writes the formula with the values of a step.
///
/// # Errors
/// Those of the writer.
pub fn filled<W: Write>(out: &mut W, step: &Step) -> fmt::Result {
    walk(
        out,
        rule(step.rule).template,
        |out, index, symbol| match step.operands.get(index) {
            Some(v) if v.is_finite() => number(out, *v),
            _ => out.write_str(symbol),
        },
    )
}

/// Which way a shown number may stray from the true one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// To the nearest.
    Nearest,
    /// Never above: limits that are a maximum.
    Down,
    /// Never below: needs and values that are held against a maximum.
    Up,
}

/// Writes a number with four significant digits, to the nearest.
///
/// # Errors
/// Those of the writer.
pub fn number<W: Write>(out: &mut W, value: f32) -> fmt::Result {
    rounded(out, value, 4, Rounding::Nearest)
}

/// Writes a number with so many significant digits.
///
/// # Errors
/// Those of the writer.
pub fn rounded<W: Write>(out: &mut W, value: f32, digits: i32, way: Rounding) -> fmt::Result {
    if !value.is_finite() {
        return out.write_str("–");
    }
    if value == 0.0 {
        return out.write_str("0");
    }
    let v = f64::from(value);
    let magnitude = libm::floor(libm::log10(libm::fabs(v)));
    #[allow(clippy::cast_possible_truncation)]
    let places = (digits - 1 - magnitude as i32).clamp(0, 9);
    let mut unit = 1.0;
    for _ in 0..places {
        unit *= 10.0;
    }
    // A hair either way, so that a value that is whole but for f32 is not pushed to its neighbour.
    let hair = libm::fabs(v) * 6e-8 * unit;
    let scaled = v * unit;
    let whole = match way {
        Rounding::Nearest => libm::round(scaled),
        Rounding::Down => libm::floor(scaled + hair),
        Rounding::Up => libm::ceil(scaled - hair),
    };
    let shown = whole / unit;
    #[allow(clippy::cast_sign_loss)]
    let mut left = places as usize;
    // No zeros at the end that say nothing.
    let mut least = whole;
    while left > 0 && least == libm::trunc(least / 10.0) * 10.0 {
        least /= 10.0;
        left -= 1;
    }
    write!(out, "{shown:.left$}")
}

/// The symbol of a unit.
#[must_use]
pub const fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Volt => "V",
        Unit::Ampere => "A",
        Unit::Ohm => "Ω",
        Unit::OhmPerKm => "Ω/km",
        Unit::Metre => "m",
        Unit::SquareMm => "mm²",
        Unit::Second => "s",
        Unit::Watt => "W",
        Unit::Celsius => "°C",
        Unit::AmpSquaredSecond => "A²s",
        Unit::KFactor => "A√s/mm²",
        Unit::Share => "%",
        Unit::Factor => "",
    }
}

/// Writes a value with its unit; a share as per cent.
///
/// # Errors
/// Those of the writer.
pub fn measure<W: Write>(
    out: &mut W,
    value: f32,
    of: Unit,
    digits: i32,
    way: Rounding,
) -> fmt::Result {
    let value = if of == Unit::Share {
        value * 100.0
    } else {
        value
    };
    rounded(out, value, digits, way)?;
    let symbol = unit(of);
    if symbol.is_empty() {
        return Ok(());
    }
    // A thin gap that does not break.
    write!(out, "\u{a0}{symbol}")
}

/// The name of a check.
#[must_use]
pub const fn check(check: Check) -> &'static str {
    en::check(check)
}

/// The sentence for a check that came out so.
#[must_use]
pub const fn sentence(check: Check, outcome: Outcome) -> &'static str {
    en::sentence(check, outcome)
}

/// What is missing: each with its sentence.
pub fn lacking(of: Lacking) -> impl Iterator<Item = (Lacking, &'static str)> {
    of.iter().map(|one| (one, en::lacking(one)))
}

/// What was taken for granted: each with its sentence.
pub fn assumed(of: Assumed) -> impl Iterator<Item = &'static str> {
    of.iter().map(en::assumed)
}

/// What is wrong with an input, and what to do.
#[must_use]
pub const fn reason(reason: Reason) -> &'static str {
    en::reason(reason)
}

/// The name of a field.
#[must_use]
pub const fn field(field: Field) -> &'static str {
    en::field(field)
}
