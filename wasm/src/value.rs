//! A job as it arrives: any tree of values, before anything is known of it.
//!
//! Read whole first, so that every field with an error can be named, and every field nobody knows.

#[cfg(target_os = "none")]
use crate::prelude::*;
use core::fmt;
use serde::de::{Deserialize, DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};

/// Deepest nesting that is read; a job needs eight.
pub const DEEPEST: u8 = 32;

/// Any value.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Value {
    /// Nothing.
    #[default]
    Null,
    /// Yes or no.
    Bool(bool),
    /// A number.
    Number(f64),
    /// Text.
    Text(String),
    /// A list.
    List(Vec<Value>),
    /// Named values.
    Map(Vec<(String, Value)>),
}

impl Value {
    /// The value of a name; nothing where there is none.
    #[must_use]
    pub fn get(&self, key: &str) -> &Value {
        match self {
            Value::Map(map) => map
                .iter()
                .find(|(name, _)| name == key)
                .map_or(&Value::Null, |(_, value)| value),
            _ => &Value::Null,
        }
    }

    /// The list of a name, where there is one.
    pub fn list_mut(&mut self, key: &str) -> Option<&mut Vec<Value>> {
        match self {
            Value::Map(map) => map.iter_mut().find_map(|(name, value)| match value {
                Value::List(items) if name == key => Some(items),
                _ => None,
            }),
            _ => None,
        }
    }

    /// The text, where it is one.
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        match self {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }
}

struct Depth(u8);

impl<'de> DeserializeSeed<'de> for Depth {
    type Value = Value;
    fn deserialize<D: Deserializer<'de>>(self, d: D) -> Result<Value, D::Error> {
        d.deserialize_any(self)
    }
}

impl Depth {
    fn deeper<E: Error>(&self) -> Result<Depth, E> {
        if self.0 >= DEEPEST {
            return Err(E::custom("nested too deep"));
        }
        Ok(Depth(self.0 + 1))
    }
}

impl<'de> Visitor<'de> for Depth {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }
    fn visit_bool<E>(self, v: bool) -> Result<Value, E> {
        Ok(Value::Bool(v))
    }
    #[allow(clippy::cast_precision_loss)]
    fn visit_i64<E>(self, v: i64) -> Result<Value, E> {
        Ok(Value::Number(v as f64))
    }
    #[allow(clippy::cast_precision_loss)]
    fn visit_u64<E>(self, v: u64) -> Result<Value, E> {
        Ok(Value::Number(v as f64))
    }
    fn visit_f64<E>(self, v: f64) -> Result<Value, E> {
        Ok(Value::Number(v))
    }
    fn visit_str<E>(self, v: &str) -> Result<Value, E> {
        Ok(Value::Text(v.to_owned()))
    }
    fn visit_string<E>(self, v: String) -> Result<Value, E> {
        Ok(Value::Text(v))
    }
    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }
    fn visit_none<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }
    fn visit_some<D: Deserializer<'de>>(self, d: D) -> Result<Value, D::Error> {
        d.deserialize_any(self)
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Value, A::Error> {
        let mut out = Vec::new();
        while let Some(v) = seq.next_element_seed(self.deeper()?)? {
            out.push(v);
        }
        Ok(Value::List(out))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Value, A::Error> {
        let mut out = Vec::new();
        while let Some(key) = map.next_key::<String>()? {
            out.push((key, map.next_value_seed(self.deeper()?)?));
        }
        Ok(Value::Map(out))
    }
}

impl<'de> Deserialize<'de> for Value {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        d.deserialize_any(Depth(0))
    }
}
