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
    let size = libm::fabs(v);
    if size > 1e15 {
        return out.write_str("–");
    }
    let magnitude = libm::floor(libm::log10(size));
    #[allow(clippy::cast_possible_truncation)]
    let places = (digits - 1 - magnitude as i32).clamp(0, 9);
    let mut unit = 1.0;
    for _ in 0..places {
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
    let (mut whole, mut left) = (libm::fabs(whole) as u64, places as usize);
    // No zeros at the end that say nothing.
    while left > 0 && whole.is_multiple_of(10) {
        whole /= 10;
        left -= 1;
    }
    decimal(out, whole, left)
}

/// Writes `whole` with the point before its last `places` digits. By integers: the code for floats would be
/// a tenth of the page's library.
fn decimal<W: Write>(out: &mut W, mut whole: u64, places: usize) -> fmt::Result {
    let mut text = [b'0'; 24];
    let mut used = 0;
    for (at, to) in text.iter_mut().rev().enumerate() {
        if at == places && places > 0 {
            *to = b'.';
        } else {
            *to = b'0' + u8::try_from(whole % 10).unwrap_or(0);
            whole /= 10;
        }
        used = at + 1;
        // At least one digit before the point.
        let needed = if places > 0 { places + 2 } else { 1 };
        if whole == 0 && used >= needed {
            break;
        }
    }
    let from = text.len().saturating_sub(used);
    let shown = text.get(from..).unwrap_or_default();
    out.write_str(core::str::from_utf8(shown).unwrap_or("–"))
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
