//! A job as the page hands it over.

use crate::value::{DEEPEST, Value};
use js_sys::{Array, Object};
use wasm_bindgen::prelude::*;

/// Reads plain data: what JSON can say, and numbers that are none.
///
/// # Errors
/// Where it is anything else, or nested without end.
pub fn read(value: &JsValue) -> Result<Value, JsValue> {
    at_depth(value, 0)
}

fn at_depth(value: &JsValue, depth: u8) -> Result<Value, JsValue> {
    if depth > DEEPEST {
        return Err(JsError::new("nested too deep").into());
    }
    // The cheap questions first: what a value is, before what it holds.
    if value.is_string() {
        return Ok(Value::Text(value.as_string().unwrap_or_default()));
    }
    if value.is_null() || value.is_undefined() {
        return Ok(Value::Null);
    }
    if let Some(b) = value.as_bool() {
        return Ok(Value::Bool(b));
    }
    if !value.is_object() {
        return match value.as_f64() {
            Some(v) => Ok(Value::Number(v)),
            None => Err(JsError::new("not plain data").into()),
        };
    }
    if Array::is_array(value) {
        let items: &Array = value.unchecked_ref();
        let mut out = Vec::new();
        for i in 0..items.length() {
            out.push(at_depth(&items.get(i), depth + 1)?);
        }
        return Ok(Value::List(out));
    }
    let entries = Object::entries(value.unchecked_ref());
    let mut out = Vec::new();
    for i in 0..entries.length() {
        let pair: Array = entries.get(i).unchecked_into();
        let key = pair.get(0).as_string().unwrap_or_default();
        out.push((key, at_depth(&pair.get(1), depth + 1)?));
    }
    Ok(Value::Map(out))
}
