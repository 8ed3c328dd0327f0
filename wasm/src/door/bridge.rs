//! From the page's values to a [`Value`], and from an [`Out`] to the page's. By hand: a bridge for any type brings
//! along how it tells of types that never come here, printed numbers among it, a quarter of the file.

use crate::out::Out;
use crate::value::{DEEPEST, Value};
use core::cell::RefCell;
use js_sys::{Array, JsString, Object};
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    /// An object, its fields by name and without a call that can fail.
    #[wasm_bindgen(extends = Object)]
    type Named;
    #[wasm_bindgen(method, indexing_getter)]
    fn field(this: &Named, name: &JsValue) -> JsValue;
    #[wasm_bindgen(method, indexing_setter)]
    fn set_field(this: &Named, name: &JsString, value: &JsValue);
}

/// # Errors
/// Where the value is no plain data, or nested too deep.
pub fn from_js(value: &JsValue) -> Result<Value, JsValue> {
    read(value, 0)
}

fn read(value: &JsValue, depth: u8) -> Result<Value, JsValue> {
    if let Some(text) = value.as_string() {
        return Ok(Value::Text(text));
    }
    if let Some(number) = value.as_f64() {
        // There is one zero.
        return Ok(Value::Number(number + 0.0));
    }
    if let Some(said) = value.as_bool() {
        return Ok(Value::Bool(said));
    }
    if value.is_null() || value.is_undefined() {
        return Ok(Value::Null);
    }
    if !value.is_object() {
        return Err(JsError::new("no plain data").into());
    }
    if depth >= DEEPEST {
        return Err(JsError::new("nested too deep").into());
    }
    if Array::is_array(value) {
        let items = value.unchecked_ref::<Array>();
        let items = (0..items.length()).map(|at| read(&items.get(at), depth + 1));
        return Ok(Value::List(items.collect::<Result<_, _>>()?));
    }
    let object = value.unchecked_ref::<Named>();
    let names = Object::keys(object);
    let fields = (0..names.length()).map(|at| {
        let name = names.get(at);
        let value = read(&object.field(&name), depth + 1)?;
        Ok((name.as_string().unwrap_or_default(), value))
    });
    Ok(Value::Map(fields.collect::<Result<_, JsValue>>()?))
}

thread_local! {
    /// The program's own texts that the page has already, by where they lie.
    static WORDS: RefCell<Vec<((usize, usize), JsString)>> = const { RefCell::new(Vec::new()) };
}

/// Hands a text of the program's own over once.
fn with_word<T>(text: &'static str, then: impl FnOnce(&JsString) -> T) -> T {
    WORDS.with_borrow_mut(|words| {
        let key = (text.as_ptr() as usize, text.len());
        let at = words
            .binary_search_by_key(&key, |(known, _)| *known)
            .unwrap_or_else(|at| {
                words.insert(at, (key, text.into()));
                at
            });
        then(&words[at].1)
    })
}

/// An answer as plain data.
#[must_use]
pub fn to_js(out: &Out) -> JsValue {
    match out {
        Out::Null => JsValue::NULL,
        Out::Bool(said) => (*said).into(),
        Out::Number(number) => (*number).into(),
        Out::Count(count) => (*count).into(),
        Out::Word(text) => with_word(text, |word| word.into()),
        Out::Text(text) => text.into(),
        Out::List(items) => items.iter().map(to_js).collect::<Array>().into(),
        Out::Fields(fields) => {
            let object = JsValue::from(Object::new()).unchecked_into::<Named>();
            for (name, value) in fields {
                let value = to_js(value);
                with_word(name, |word| object.set_field(word, &value));
            }
            object.into()
        }
    }
}
