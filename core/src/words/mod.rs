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

pub mod earthing_en;
pub mod en;
pub mod reading_en;

use crate::error::{Error, Field, Reason};
use crate::verdict::{Assumed, Check, Figure, Lacking, Outcome, Rule, Step, Unit};
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

/// The text before a mark of one byte, and the text after it.
fn cut(text: &str, mark: u8) -> Option<(&str, &str)> {
    let at = text.bytes().position(|b| b == mark)?;
    Some((text.get(..at)?, text.get(at + 1..)?))
}

/// Walks a template, handing out its plain text and its operands.
fn walk<W: Write>(
    out: &mut W,
    template: &str,
    operand: &mut dyn FnMut(&mut W, usize, &str) -> fmt::Result,
) -> fmt::Result {
    let mut rest = template;
    while let Some((plain, after)) = cut(rest, b'{') {
        out.write_str(plain)?;
        let Some((inside, further)) = cut(after, b'}') else {
            return Ok(());
        };
        if let Some((index, symbol)) = cut(inside, b':') {
            // One digit: no rule has ten operands.
            let digit = index.bytes().next().unwrap_or(0);
            operand(out, usize::from(digit.wrapping_sub(b'0')), symbol)?;
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
    walk(out, words.template, &mut |out, _, symbol| {
        out.write_str(symbol)
    })
}

/// Writes the formula with the values of a step.
///
/// # Errors
/// Those of the writer.
pub fn filled<W: Write>(out: &mut W, step: &Step) -> fmt::Result {
    walk(
        out,
        rule(step.rule).template,
        &mut |out, index, symbol| match step.operands.get(index) {
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
    let size = libm::fabs(v);
    if size > 1e15 {
        return out.write_str("–");
    }
    // As many places as leave no more than the digits asked for. The products are exact: an f32 by a power
    // of ten below 2^31.
    let mut full = 1.0;
    for _ in 0..digits {
        full *= 10.0;
    }
    let (mut places, mut unit) = (0, 1.0);
    while places < 9 && size * unit * 10.0 < full {
        places += 1;
        unit *= 10.0;
    }
    // A hair either way, so that a value that is whole but for f32 is not pushed to its neighbour.
    let hair = size * 6e-8 * unit;
    let scaled = v * unit;
    let whole = match way {
        Rounding::Nearest => libm::round(scaled),
        Rounding::Down => libm::floor(scaled + hair),
        Rounding::Up => libm::ceil(scaled - hair),
    };
    if whole < 0.0 {
        out.write_char('\u{2212}')?;
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let mut whole = libm::fabs(whole) as u64;
    // No zeros at the end that say nothing.
    while places > 0 && whole.is_multiple_of(10) {
        whole /= 10;
        places -= 1;
    }
    decimal(out, whole, places)
}

/// Writes `whole` with the point before its last `places` digits. By integers: the code for floats would be
/// a tenth of the page's library.
fn decimal<W: Write>(out: &mut W, whole: u64, places: u32) -> fmt::Result {
    // How many digits follow the first, and its power of ten.
    let (mut power, mut left) = (1u64, 0);
    let from = |power| whole.checked_div(power).unwrap_or(0);
    while left < places || from(power) >= 10 {
        power *= 10;
        left += 1;
    }
    loop {
        let digit = u8::try_from(from(power) % 10).unwrap_or(0);
        out.write_char(char::from(b'0' + digit))?;
        if left == 0 {
            return Ok(());
        }
        if left == places {
            out.write_char('.')?;
        }
        power /= 10;
        left -= 1;
    }
}

/// Writes a whole number.
///
/// # Errors
/// Those of the writer.
pub fn count<W: Write>(out: &mut W, n: u32) -> fmt::Result {
    decimal(out, n.into(), 0)
}

/// The symbol of a unit.
#[must_use]
pub const fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Volt => "V",
        Unit::Ampere => "A",
        Unit::Ohm => "Ω",
        Unit::MegaOhm => "MΩ",
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

/// Writes a value as it stands before its unit; a share as per cent.
///
/// # Errors
/// Those of the writer.
pub fn figure<W: Write>(
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
    rounded(out, value, digits, way)
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
    figure(out, value, of, digits, way)?;
    let symbol = unit(of);
    if symbol.is_empty() {
        return Ok(());
    }
    // A thin gap that does not break.
    out.write_str("\u{a0}")?;
    out.write_str(symbol)
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

/// Symbol and name of a figure: of a circuit, or of a board or the supply.
#[must_use]
pub const fn named(figure: Figure, of_circuit: bool) -> (&'static str, &'static str) {
    en::named(figure, of_circuit)
}

/// What is missing: each with its sentence.
pub fn lacking(of: Lacking) -> impl Iterator<Item = (Lacking, &'static str)> {
    en::LACKING
        .into_iter()
        .filter(move |(one, _)| of.contains(*one))
}

/// What was taken for granted: each with its sentence.
pub fn assumed(of: Assumed) -> impl Iterator<Item = &'static str> {
    en::ASSUMED
        .into_iter()
        .filter(move |(one, _)| of.contains(*one))
        .map(|(_, text)| text)
}

/// What is wrong with an input, and what to do.
#[must_use]
pub const fn error(error: Error) -> &'static str {
    en::error(error)
}

/// Why an input was refused, and what to do.
#[must_use]
pub const fn reason(reason: Reason) -> &'static str {
    en::reason(reason)
}

/// The name of a field.
#[must_use]
pub const fn field(field: Field) -> &'static str {
    en::field(field)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::string::String;

    fn shown(value: f32, way: Rounding) -> String {
        let mut out = String::new();
        rounded(&mut out, value, 4, way).unwrap();
        out
    }

    #[test]
    fn rounds_to_the_side_that_is_asked() {
        assert_eq!(shown(1.365_62, Rounding::Down), "1.365");
        assert_eq!(shown(1.365_62, Rounding::Up), "1.366");
        assert_eq!(shown(1.365_62, Rounding::Nearest), "1.366");
        assert_eq!(shown(2.185, Rounding::Down), "2.185");
        assert_eq!(shown(2.185, Rounding::Up), "2.185");
        assert_eq!(shown(0.1, Rounding::Up), "0.1");
        assert_eq!(shown(0.000_123_46, Rounding::Down), "0.0001234");
        assert_eq!(shown(16_000.0, Rounding::Down), "16000");
        assert_eq!(shown(100.0, Rounding::Up), "100");
        assert_eq!(shown(99.999_99, Rounding::Up), "100");
        assert_eq!(shown(-12.5, Rounding::Nearest), "−12.5");
        assert_eq!(shown(0.0, Rounding::Nearest), "0");
        assert_eq!(shown(f32::NAN, Rounding::Up), "–");
        assert_eq!(shown(f32::MAX, Rounding::Up), "–");
        assert_eq!(shown(1.0, Rounding::Nearest), "1");
    }

    #[test]
    fn every_flag_has_words() {
        assert!(
            Lacking::all()
                .iter()
                .eq(en::LACKING.iter().map(|(one, _)| *one))
        );
        assert!(
            Assumed::all()
                .iter()
                .eq(en::ASSUMED.iter().map(|(one, _)| *one))
        );
        assert_eq!(assumed(Assumed::all()).count(), en::ASSUMED.len());
    }

    proptest::proptest! {
        #[test]
        fn shown_numbers_never_stray_to_the_wrong_side(v in 1e-3f32..1e6) {
            let (down, up): (f64, f64) = (shown(v, Rounding::Down).parse().unwrap(), shown(v, Rounding::Up).parse().unwrap());
            let hair = f64::from(v) * 1e-7;
            assert!(down <= f64::from(v) + hair && up >= f64::from(v) - hair, "{v}: {down} {up}");
            assert!((up - down) <= f64::from(v) * 1.1e-3, "{v}: {down} {up}");
        }
    }
}
