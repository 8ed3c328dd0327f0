//! What goes back, as one kind of tree: a single writer then serves every answer, which is the smaller
//! program, and the words that recur in all of them are handed to the page once.

#[cfg(target_os = "none")]
use crate::prelude::*;
use core::iter;
use serde::ser::{Serialize, SerializeStruct, Serializer};

/// Any value of an answer.
#[derive(Clone, Debug)]
pub enum Out {
    /// Nothing.
    Null,
    /// Yes or no.
    Bool(bool),
    /// A figure.
    Number(f32),
    /// A count or a place in a list.
    Count(u32),
    /// A text of the program's own.
    Word(&'static str),
    /// A text made for this answer.
    Text(String),
    /// A list.
    List(Vec<Out>),
    /// Named values, in this order.
    Fields(Vec<(&'static str, Out)>),
}

/// Figures by their bits: what stands for an answer says the same to the last one.
impl PartialEq for Out {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Out::Null, Out::Null) => true,
            (Out::Bool(a), Out::Bool(b)) => a == b,
            (Out::Number(a), Out::Number(b)) => a.to_bits() == b.to_bits(),
            (Out::Count(a), Out::Count(b)) => a == b,
            (Out::Word(a), Out::Word(b)) => a == b,
            (Out::Text(a), Out::Text(b)) => a == b,
            (Out::List(a), Out::List(b)) => a == b,
            (Out::Fields(a), Out::Fields(b)) => a == b,
            _ => false,
        }
    }
}

impl Out {
    /// The value of a name; nothing where there is none.
    #[must_use]
    pub fn get(&self, key: &str) -> &Out {
        let Out::Fields(fields) = self else {
            return &Out::Null;
        };
        fields
            .iter()
            .find(|(name, _)| *name == key)
            .map_or(&Out::Null, |(_, value)| value)
    }

    /// The items of a list; none of anything else.
    #[must_use]
    pub fn items(&self) -> &[Out] {
        match self {
            Out::List(items) => items,
            _ => &[],
        }
    }

    /// The text, where it is one.
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        match self {
            Out::Word(text) => Some(text),
            Out::Text(text) => Some(text),
            _ => None,
        }
    }
}

impl From<&'static str> for Out {
    fn from(text: &'static str) -> Self {
        Out::Word(text)
    }
}

impl From<String> for Out {
    fn from(text: String) -> Self {
        Out::Text(text)
    }
}

impl From<f32> for Out {
    fn from(v: f32) -> Self {
        Out::Number(v)
    }
}

impl From<u8> for Out {
    fn from(n: u8) -> Self {
        Out::Count(n.into())
    }
}

impl<T: Into<Out>> From<Option<T>> for Out {
    fn from(v: Option<T>) -> Self {
        v.map_or(Out::Null, Into::into)
    }
}

impl From<&[f32]> for Out {
    fn from(all: &[f32]) -> Self {
        Out::List(all.iter().map(|v| Out::Number(*v)).collect())
    }
}

impl Serialize for Out {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        let before = &Out::Null;
        Since { now: self, before }.serialize(s)
    }
}

/// An answer to one who has the answer before it: what is the same in it, where a list or named values were, comes
/// as `true`.
pub struct Since<'a> {
    /// The answer.
    pub now: &'a Out,
    /// What stood in its place.
    pub before: &'a Out,
}

impl Serialize for Since<'_> {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        let (now, before) = (self.now, self.before);
        match now {
            Out::List(_) | Out::Fields(_) if now == before => s.serialize_bool(true),
            Out::List(items) => {
                let before = before.items().iter().chain(iter::repeat(&Out::Null));
                s.collect_seq(
                    items
                        .iter()
                        .zip(before)
                        .map(|(now, before)| Since { now, before }),
                )
            }
            Out::Fields(fields) => {
                let mut out = s.serialize_struct("", fields.len())?;
                for (name, now) in fields {
                    let before = before.get(name);
                    out.serialize_field(name, &Since { now, before })?;
                }
                out.end()
            }
            Out::Null => s.serialize_none(),
            Out::Bool(b) => s.serialize_bool(*b),
            Out::Number(v) => s.serialize_f32(*v),
            Out::Count(n) => s.serialize_u32(*n),
            // Written as a text by all; the bridge to the page keeps the one it made the first time.
            Out::Word(text) => s.serialize_unit_variant("", 0, text),
            Out::Text(text) => s.serialize_str(text),
        }
    }
}

/// One text of several.
#[must_use]
pub fn joined(parts: &[&str]) -> String {
    let mut out = String::new();
    for part in parts {
        out.push_str(part);
    }
    out
}
