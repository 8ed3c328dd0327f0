//! The tools of the reader: where it is, what it asked for, what was wrong.

use super::{Wrong, reason_name};
use crate::names::Choices;
use crate::out::Out;
use crate::path::Path;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::value::Value;
use faultpath::error::{Error, Field, Reason};

/// The errors found so far.
#[derive(Default)]
pub(super) struct Errors(pub(super) Vec<Out>);

impl Errors {
    fn say(&mut self, path: String, field: Out, reason: &'static str, wrong: Out, names: Out) {
        self.0.push(Out::Fields(vec![
            ("path", path.into()),
            ("field", field),
            ("reason", reason.into()),
            ("wrong", wrong),
            ("names", names),
            ("deep", Out::Null),
        ]));
    }

    /// An error of the format, at the field the path leads to.
    pub(super) fn at(&mut self, path: &Path<'_>, wrong: Wrong) {
        self.of(path, wrong, Out::Null);
    }

    fn of(&mut self, path: &Path<'_>, wrong: Wrong, names: Out) {
        let field = path.last_key().to_owned().into();
        self.say(
            path.text(),
            field,
            wrong.reason(),
            (wrong as u8).into(),
            names,
        );
    }

    /// An error of core, whose words are in the catalogue.
    pub(super) fn core(&mut self, path: String, error: Error) {
        self.say(
            path,
            (error.field as u8).into(),
            reason_name(error.reason),
            Out::Null,
            Out::Null,
        );
    }

    /// Marks every error since the given one: nothing can be judged with it.
    pub(super) fn deep(&mut self, since: usize) {
        for error in self.0.iter_mut().skip(since) {
            let Out::Fields(fields) = error else { continue };
            for (key, value) in fields {
                if *key == "deep" {
                    *value = Out::Count(1);
                }
            }
        }
    }

    /// The choice a value names, as its place in the list.
    pub(super) fn pick(
        &mut self,
        value: &Value,
        names: &[&'static str],
        path: &Path<'_>,
    ) -> Option<usize> {
        let found = value
            .text()
            .and_then(|text| names.iter().position(|name| *name == text));
        if found.is_none() {
            let names = names.iter().map(|name| (*name).into());
            self.of(path, Wrong::Choice, Out::List(names.collect()));
        }
        found
    }
}

/// A map being read: knows which of its keys were asked for, and whether they could be read. What can't be
/// is named among the errors and is `None` here.
pub(super) struct Fields<'v, 'p, 'e> {
    pub(super) map: &'v [(String, Value)],
    pub(super) path: &'p Path<'p>,
    pub(super) errors: &'e mut Errors,
    pub(super) seen: u64,
    pub(super) good: bool,
}

/// Makes a quantity of a number.
pub(super) type Make<T> = fn(f32) -> Result<T, Reason>;

/// Reads one thing.
pub(super) type Reader<T> = fn(&Value, &Path<'_>, &mut Errors) -> Option<T>;

impl<'v, 'p, 'e> Fields<'v, 'p, 'e> {
    pub(super) fn of(value: &'v Value, path: &'p Path<'p>, errors: &'e mut Errors) -> Option<Self> {
        let wrong = match value {
            Value::Map(map) if map.len() <= 64 => {
                return Some(Self {
                    map,
                    path,
                    errors,
                    seen: 0,
                    good: true,
                });
            }
            Value::Map(_) => Wrong::Fields,
            _ => Wrong::Object,
        };
        errors.at(path, wrong);
        None
    }

    pub(super) fn get(&mut self, key: &str) -> &'v Value {
        let mut mask = 1;
        for (name, value) in self.map {
            if name == key {
                self.seen |= mask;
                return value;
            }
            mask <<= 1;
        }
        &Value::Null
    }

    /// Whether a field is there at all.
    pub(super) fn has(&self, key: &str) -> bool {
        self.map.iter().any(|(name, _)| name == key)
    }

    /// Reads what the rest can be judged without: what is bad there is named, and counts as missing.
    pub(super) fn spare<T>(&mut self, read: impl FnOnce(&mut Self) -> T) -> T {
        let good = self.good;
        let out = read(self);
        self.good = good;
        out
    }

    /// Every field nobody asked for is an error: a misspelt name must not pass as an empty field.
    pub(super) fn known(&mut self) -> Option<()> {
        let mut clean = Some(());
        for (i, (key, _)) in self.map.iter().enumerate() {
            if self.seen & (1 << i) == 0 {
                clean = None;
                self.errors.at(&Path::Key(self.path, key), Wrong::Unknown);
            }
        }
        clean
    }

    /// Whether every field is known and could be read.
    pub(super) fn finish(&mut self) -> Option<()> {
        self.known()?;
        self.good.then_some(())
    }

    pub(super) fn wrong(&mut self, key: &str, wrong: Wrong) {
        self.errors.at(&Path::Key(self.path, key), wrong);
        self.good = false;
    }

    pub(super) fn refuse(&mut self, key: &str, error: Error) {
        self.errors.core(Path::Key(self.path, key).text(), error);
        self.good = false;
    }

    #[allow(clippy::cast_possible_truncation)]
    pub(super) fn number(&mut self, key: &str) -> Option<f32> {
        match self.get(key) {
            Value::Null => None,
            Value::Number(v) => Some(*v as f32),
            _ => {
                self.wrong(key, Wrong::Number);
                None
            }
        }
    }

    /// A number that may be absent, made into a quantity.
    pub(super) fn maybe<T>(&mut self, key: &str, field: Field, make: Make<T>) -> Option<T> {
        match make(self.number(key)?) {
            Ok(v) => Some(v),
            Err(reason) => {
                self.refuse(key, reason.at(field));
                None
            }
        }
    }

    pub(super) fn needed<T>(&mut self, key: &str, field: Field, make: Make<T>) -> Option<T> {
        if matches!(self.get(key), Value::Null) {
            self.refuse(key, Reason::Missing.at(field));
        }
        self.maybe(key, field, make)
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    pub(super) fn count(&mut self, key: &str, field: Field) -> Option<u8> {
        self.needed(key, field, Ok)?;
        // By the number as it came: near a whole one is not one.
        if let Value::Number(v) = self.get(key) {
            let whole = *v as u8;
            if f64::from(whole) == *v {
                return Some(whole);
            }
        }
        self.wrong(key, Wrong::Whole);
        None
    }

    /// Yes or no. What is neither is taken for `worse`, by which more is asked for, and is no reason to leave
    /// out the rest.
    pub(super) fn flag(&mut self, key: &str, worse: bool) -> bool {
        if let Value::Bool(b) = self.get(key) {
            return *b;
        }
        self.spare(|f| f.wrong(key, Wrong::Flag));
        worse
    }

    /// A name for a person: there must be one, though nothing is lost with it.
    pub(super) fn name(&mut self) {
        if !matches!(self.get("name"), Value::Text(_)) {
            self.errors.at(&Path::Key(self.path, "name"), Wrong::Text);
        }
    }

    /// A text; nothing is lost where it can't be read, unless the caller says so.
    pub(super) fn text(&mut self, key: &str) -> Option<&'v str> {
        match self.get(key) {
            Value::Text(t) => Some(t),
            Value::Null => Some(""),
            _ => {
                self.errors.at(&Path::Key(self.path, key), Wrong::Text);
                None
            }
        }
    }

    pub(super) fn pick(&mut self, key: &str, names: &[&'static str]) -> Option<usize> {
        let value = self.get(key);
        let found = self.errors.pick(value, names, &Path::Key(self.path, key));
        self.good &= found.is_some();
        found
    }

    pub(super) fn choice<T: Copy>(&mut self, key: &str, choices: Choices<T>) -> Option<T> {
        let i = self.pick(key, choices.names)?;
        choices.values.get(i).copied()
    }

    /// A thing that must be there.
    pub(super) fn part<T>(&mut self, key: &str, read: Reader<T>) -> Option<T> {
        let value = self.get(key);
        let found = read(value, &Path::Key(self.path, key), self.errors);
        self.good &= found.is_some();
        found
    }

    /// A thing, or null.
    pub(super) fn object<T>(&mut self, key: &str, read: Reader<T>) -> Option<T> {
        match self.get(key) {
            Value::Null => None,
            _ => self.part(key, read),
        }
    }

    // The same, straight into the place they are for; what can't be read leaves it as it was.

    pub(super) fn fill<T>(&mut self, key: &str, field: Field, make: Make<T>, to: &mut T) {
        if let Some(v) = self.needed(key, field, make) {
            *to = v;
        }
    }

    pub(super) fn fill_if_any<T>(
        &mut self,
        key: &str,
        field: Field,
        make: Make<T>,
        to: &mut Option<T>,
    ) {
        *to = self.maybe(key, field, make);
    }

    pub(super) fn fill_count(&mut self, key: &str, field: Field, to: &mut u8) {
        if let Some(n) = self.count(key, field) {
            *to = n;
        }
    }

    pub(super) fn fill_choice<T: Copy>(&mut self, key: &str, choices: Choices<T>, to: &mut T) {
        if let Some(v) = self.choice(key, choices) {
            *to = v;
        }
    }

    pub(super) fn fill_part<T>(&mut self, key: &str, read: Reader<T>, to: &mut T) {
        if let Some(v) = self.part(key, read) {
            *to = v;
        }
    }
}
